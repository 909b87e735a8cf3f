import { useEffect, useState } from "preact/hooks";
import { sayHistoryFinding, type ToolHistoryResult } from "../../../analysis/index.ts";

import { toolHistoryRows } from "../../charts/chartRows.ts";
import { ToolHistoryChart } from "../../charts/ToolHistoryChart.tsx";

import { type Picked, pickedLives, pickedRows } from "../../state/evidence.ts";
import { fileName } from "../../state/saveFile.ts";
import { Answer } from "../parts/Answer.tsx";
import { Cautions } from "../parts/Cautions.tsx";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import { HowComputed } from "../parts/HowComputed.tsx";
import { Link } from "../parts/Link.tsx";
import type { Mark } from "../parts/marks.ts";
import { Notices } from "../parts/Notices.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { AgesTable } from "./AgesTable.tsx";
import { EventsList } from "./EventsList.tsx";

/** One serial's whole story on a page. */
export function ToolHistoryAnswer({ result }: { readonly result: ToolHistoryResult }) {
  const [picked, setPicked] = useState<Picked | null>(null);
  const { serial } = result.tool;
  useEffect(() => setPicked(null), [serial]);
  const pick = (mark: Mark) => {
    if (mark.row !== null) setPicked(pickedRows(mark.says, [mark.row]));
    else if (mark.lifeIds.length > 0) {
      const rows = result.lives.filter((life) => mark.lifeIds.includes(life.id)).flatMap((life) => life.rows);
      setPicked(rows.length > 0 ? pickedRows(mark.says, rows) : pickedLives(mark.says, mark.lifeIds));
    }
  };
  return (
    <>
      <Answer result={result}>
        <Link to={{ serial: null }}>All serials</Link>
        <Link to={{ view: "what-fails", scope: { serial } }}>What fails on {serial}</Link>
      </Answer>
      <p class="answer-actions">
        <Link to={{ form: "finding" }} class="button main">
          Add a finding
        </Link>
        <Link to={{ form: "run" }} class="button">
          Add a run
        </Link>
        <Link to={{ form: "redress" }} class="button">
          Add a redress
        </Link>
        <Link to={{ form: "plan" }} class="button">
          Plan a run
        </Link>
      </p>
      <div class="card">
        <Section name="Picture">
          <ChartPanel
            name={`the story of ${serial}`}
            file={fileName(["history", serial], "").slice(0, -1)}
            table={() => toolHistoryRows(result)}
            draw={(size) => <ToolHistoryChart result={result} finding={sayHistoryFinding(result)} {...size} />}
            onPick={pick}
          />
        </Section>
        <Section name="Numbers">
          <AgesTable result={result} />
          <Notices
            notices={result.notices.filter(({ code }) => code !== "invented-data")}
            onRows={(title, rows) => setPicked(pickedRows(title, rows))}
          />
        </Section>
        <Section name="Events">
          <EventsList result={result} onRows={(title, rows) => setPicked(pickedRows(title, rows))} />
        </Section>
        <Section name="Method">
          <HowComputed
            provenance={result.provenance}
            definition={null}
            method="Events of one date are put in the order run in, teardown, redress, run out. Ages count the hours run since what restores each mode; hours not written down make an age a range."
          />
        </Section>
        <Section name="Rows">
          <RowsBehind
            picked={picked}
            study={null}
            hint="Click a mark in the picture, or “Show rows” at an event, to see the rows of your sheets."
          />
        </Section>
      </div>
      <Cautions kinds={["life", "dispatch", "teardown"]} />
    </>
  );
}
