import { useState } from "preact/hooks";
import type { FitChecks, ItemLifeResult, LookSensitivity } from "../../../analysis/index.ts";
import { type Picked, pickedLives, pickedRows } from "../../state/evidence.ts";
import { partPath } from "../../state/lifeParts.ts";
import { place } from "../../state/navigation.ts";
import { type NoticePlace, noticesAt } from "../../state/placeNotices.ts";
import { Answer } from "../parts/Answer.tsx";
import { Cautions } from "../parts/Cautions.tsx";
import { Link } from "../parts/Link.tsx";
import { Notices } from "../parts/Notices.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { BoundsChoice } from "./BoundsChoice.tsx";
import { CountsTable } from "./CountsTable.tsx";
import { FitChecksPart } from "./FitChecksPart.tsx";
import { GroupsPart } from "./GroupsPart.tsx";
import { ItemLifeMethod } from "./ItemLifeMethod.tsx";
import { ItemLifePictures } from "./ItemLifePictures.tsx";
import { LawsTable } from "./LawsTable.tsx";
import { LifePartFold } from "./LifePartFold.tsx";
import { LivesTable } from "./LivesTable.tsx";
import { LookSensitivityPart } from "./LookSensitivityPart.tsx";
import { OpenDoubts } from "./OpenDoubts.tsx";
import { ReadingsTable } from "./ReadingsTable.tsx";
import { SensitivityTable } from "./SensitivityTable.tsx";
import { ShapeChoice } from "./ShapeChoice.tsx";

/** The answer, its pictures, its numbers, its method and the rows behind it. */
export function ItemLifeAnswer({ result }: { readonly result: ItemLifeResult }) {
  const [picked, setPicked] = useState<Picked | null>(null);
  const { studyHash } = result.provenance;
  const at = (where: NoticePlace) => (
    <Notices notices={noticesAt(result.notices, where)} onRows={(title, rows) => setPicked(pickedRows(title, rows))} />
  );
  const show = (title: string, lifeIds: readonly string[]) => setPicked(pickedLives(title, lifeIds));
  return (
    <>
      <Answer result={result}>
        <LinkedPage result={result} />
        <Link to={{ view: "what-fails", scope: { mode: null } }}>What else fails on this item</Link>
      </Answer>
      <div class="card">
        <Section name="Picture">
          <ItemLifePictures result={result} onPick={show} />
        </Section>
        <Section name="Numbers">
          <div class="side-by-side">
            <div class="stack">
              <ReadingsTable result={result} />
              <BoundsChoice result={result} />
              <ShapeChoice result={result} />
              {result.linked !== null && result.linked.delay === null ? (
                <p class="muted small">
                  How long {result.linked.defect} takes to become {result.linked.failure}: these lives do not tell yet.
                </p>
              ) : null}
              {at("readings")}
              {at("missing hours")}
              <SensitivityTable result={result} />
            </div>
            <div class="stack">
              <CountsTable result={result} />
              {at("counts")}
            </div>
          </div>
          <LawsTable result={result} />
          {at("records")}
          <OpenDoubts result={result} />
        </Section>
        <Section name="Checks">
          <LifePartFold<FitChecks>
            title="Does the curve fit?"
            path={partPath(place.value, "checks")}
            waitingWords="Simulating lives from the curve, each followed as these were"
          >
            {(checks) => <FitChecksPart checks={checks} onPick={show} />}
          </LifePartFold>
          <LifePartFold<LookSensitivity>
            title="What if inspections were no accident, or missed something?"
            path={partPath(place.value, "looks")}
            waitingWords="Fitting anew under each assumption"
          >
            {(part) => <LookSensitivityPart part={part} />}
          </LifePartFold>
          <GroupsPart result={result} />
        </Section>
        <Section name="Method">
          <ItemLifeMethod result={result} />
        </Section>
        <Section name="Rows">
          <LivesTable result={result} picked={picked?.lifeIds ?? []} onPick={show} />
          <RowsBehind
            picked={picked}
            study={studyHash}
            hint="Click a mark in a picture, or a life in the list, to see the rows of your sheets behind it."
          />
        </Section>
      </div>
      <Cautions kinds={["life", "interval", "dispatch"]} />
    </>
  );
}

/** A defect and the failure it leads to are two questions; each page says where the other is. */
function LinkedPage({ result: { mode, linked } }: { readonly result: ItemLifeResult }) {
  if (linked === null) return null;
  const isDefect = mode === linked.defect;
  const other = isDefect ? linked.failure : linked.defect;
  return (
    <Link to={{ scope: { mode: other } }}>
      {isDefect ? `The ${other} that follows` : `The ${other} that comes before`}
    </Link>
  );
}
