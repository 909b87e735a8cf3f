import { useState } from "preact/hooks";
import type { RedressIntervalResult } from "../../../analysis/index.ts";
import { type Picked, pickedRows } from "../../state/evidence.ts";
import { type NoticePlace, noticesAt } from "../../state/placeNotices.ts";
import { Answer } from "../parts/Answer.tsx";
import { Cautions } from "../parts/Cautions.tsx";
import { Link } from "../parts/Link.tsx";
import { Notices } from "../parts/Notices.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { DecisionForm } from "./DecisionForm.tsx";
import { IntervalHeat } from "./IntervalHeat.tsx";
import { IntervalMethod } from "./IntervalMethod.tsx";
import { IntervalModesTable } from "./IntervalModesTable.tsx";
import { IntervalNumbers } from "./IntervalNumbers.tsx";
import { IntervalPictures } from "./IntervalPictures.tsx";
import { IntervalSensitivity } from "./IntervalSensitivity.tsx";
import { PoliciesTable } from "./PoliciesTable.tsx";
import { SinceDecision } from "./SinceDecision.tsx";

/** The range with its risk, the pictures with the handle, the numbers, the method and the rows behind it. */
export function IntervalAnswer({ result }: { readonly result: RedressIntervalResult }) {
  const [picked, setPicked] = useState<Picked | null>(null);
  const at = (where: NoticePlace) => (
    <Notices notices={noticesAt(result.notices, where)} onRows={(title, rows) => setPicked(pickedRows(title, rows))} />
  );
  const worst = result.verdict.fixFirst;
  return (
    <>
      <Answer result={result}>
        {worst === null ? null : (
          <Link
            to={{ view: "item-life", scope: { toolType: result.toolType, item: worst.item, mode: worst.mode } }}
            class="button"
          >
            How long does {worst.item} last before {worst.mode}?
          </Link>
        )}
        {result.item === null ? null : (
          <Link to={{ scope: { item: null, mode: null } }}>The whole {result.toolType}</Link>
        )}
      </Answer>
      <div class="card">
        <Section name="Picture">
          <IntervalPictures result={result} />
        </Section>
        <Section name="Numbers">
          <DecisionForm result={result} />
          {at("costs")}
          <div class="side-by-side">
            <IntervalNumbers result={result} />
            <IntervalSensitivity result={result} />
          </div>
          {result.heat === null ? null : <IntervalHeat result={result} heat={result.heat} />}
          <PoliciesTable result={result} />
          <SinceDecision result={result} />
          <IntervalModesTable result={result} />
          {at("readings")}
          {at("records")}
        </Section>
        <Section name="Method">
          <IntervalMethod result={result} />
        </Section>
        <Section name="Rows">
          <RowsBehind
            picked={picked}
            study={result.provenance.studyHash}
            hint="Go to Item life from the table of modes to see the lives behind each of them."
          />
        </Section>
      </div>
      <Cautions kinds={["interval", "dispatch"]} />
    </>
  );
}
