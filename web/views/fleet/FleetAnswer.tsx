import { useState } from "preact/hooks";
import { type FleetResult, fleetRule, formatHours, sayFleetBoard, sayFleetHeat } from "../../../analysis/index.ts";
import { FleetChart, mostTools } from "../../charts/FleetChart.tsx";
import { type Picked, pickedRows } from "../../state/evidence.ts";
import { move } from "../../state/navigation.ts";
import { noticesAt } from "../../state/placeNotices.ts";
import { Answer } from "../parts/Answer.tsx";
import { Cautions } from "../parts/Cautions.tsx";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import { HowComputed } from "../parts/HowComputed.tsx";
import { Link } from "../parts/Link.tsx";
import { Notices } from "../parts/Notices.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { FleetBoard } from "./FleetBoard.tsx";
import { ForecastPart } from "./ForecastPart.tsx";
import { fleetRows } from "./fleetRows.ts";

/** The board with its rule, the chances as a picture, the method and the rows behind it. */
export function FleetAnswer({ result }: { readonly result: FleetResult }) {
  const [picked, setPicked] = useState<Picked | null>(null);
  const show = (mark: { readonly row: { readonly table: string; readonly key: string } | null }) => {
    const serial: unknown = mark.row?.table === "tools" ? JSON.parse(mark.row.key)[0] : null;
    if (typeof serial === "string") move({ view: "tool-history", serial });
  };
  return (
    <>
      <Answer result={result}>
        <Link to={{ view: "interval" }} class="button">
          When do we redress?
        </Link>
      </Answer>
      <div class="card">
        <Section name="Board">
          <FleetBoard result={result} />
          <ul class="rule small muted">
            {fleetRule.map((line) => (
              <li key={line}>{line}</li>
            ))}
            {result.intervals.map(({ toolType, intervalH }) => (
              <li key={toolType}>
                Interval in force for the {toolType}: {formatHours(intervalH)}.
              </li>
            ))}
          </ul>
        </Section>
        <Section name="Picture">
          <ChartPanel
            name="the chance in the next run"
            file="fleet-next-run"
            table={() => fleetRows(result)}
            draw={(size) => <FleetChart result={result} finding={sayFleetBoard(result)} {...size} />}
            onPick={show}
          />
          {result.tools.length <= mostTools ? null : (
            <p class="muted small">
              The {mostTools} tools with the highest chance are drawn; the file has all of them.
            </p>
          )}
        </Section>
        <Section name="Year ahead">
          <ForecastPart result={result} />
        </Section>
        <Section name="Method">
          <HowComputed
            provenance={result.provenance}
            definition={result.failureDefinition}
            method={
              <>
                Chance that any mode that stops jobs comes in the next run, given the age of each item and its last
                clean inspection; laws fitted to all tools of the type, bounds from 150 draws of their parameters.
              </>
            }
          >
            {result.heat.length === 0 ? null : (
              <div>
                <dt>Heat of the wells</dt>
                <dd>
                  {result.heat.map((one) => sayFleetHeat(one, result.definition.decision?.wellC ?? null)).join(" ")}
                </dd>
              </div>
            )}
          </HowComputed>
        </Section>
        <Section name="Rows">
          <Notices
            notices={noticesAt(result.notices, "records")}
            onRows={(title, rows) => setPicked(pickedRows(title, rows))}
          />
          <RowsBehind
            picked={picked}
            study={result.provenance.studyHash}
            hint="Click a tool to see its whole story, with the rows of your sheets."
          />
        </Section>
      </div>
      <Cautions kinds={["dispatch", "interval"]} />
    </>
  );
}
