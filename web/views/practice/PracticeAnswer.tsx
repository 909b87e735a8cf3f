import { useState } from "preact/hooks";
import {
  type BuildPracticeResult,
  comparisonOf,
  type PracticeChoice,
  sayPracticeFinding,
} from "../../../analysis/index.ts";
import { PracticeChart } from "../../charts/PracticeChart.tsx";
import { practiceRowsAtOnce } from "../../charts/practiceLayout.ts";
import { practiceRows } from "../../charts/practiceRows.ts";
import { type Picked, pickedLives, pickedRows } from "../../state/evidence.ts";
import { move } from "../../state/navigation.ts";
import { noticesAt } from "../../state/placeNotices.ts";
import { Answer } from "../parts/Answer.tsx";
import { Cautions } from "../parts/Cautions.tsx";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import type { Mark } from "../parts/marks.ts";
import { Notices } from "../parts/Notices.tsx";
import { Pager } from "../parts/Pager.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { Closely } from "./Closely.tsx";
import { ComparisonsTable } from "./ComparisonsTable.tsx";
import { JointsTable } from "./JointsTable.tsx";
import { LotsTable } from "./LotsTable.tsx";
import { PracticeMethod } from "./PracticeMethod.tsx";
import { TorqueFigures } from "./TorqueFigures.tsx";

/** The answer, the ranked comparisons, one of them closely, the lots, the torques, the method and the rows. */
export function PracticeAnswer({ result }: { readonly result: BuildPracticeResult }) {
  const [picked, setPicked] = useState<Picked | null>(null);
  const [from, setFrom] = useState(0);
  const { comparisons, detail } = result;
  const page = { from, to: Math.min(from + practiceRowsAtOnce, comparisons.length) };
  const show = (title: string, lifeIds: readonly string[]) => setPicked(pickedLives(title, lifeIds));
  const at = (where: "comparisons" | "records") => (
    <Notices notices={noticesAt(result.notices, where)} onRows={(title, rows) => setPicked(pickedRows(title, rows))} />
  );
  const comparison = detail === null ? undefined : comparisonOf(result, detail);
  const finding = sayPracticeFinding(result, "ranked");
  return (
    <>
      <Answer result={result} />
      <div class="card">
        {comparisons.length === 0 ? null : (
          <Section name="Picture">
            <ChartPanel
              name="the comparisons"
              file="build-practice"
              sentence={finding}
              table={() => practiceRows(result)}
              draw={(size) => <PracticeChart result={result} finding={finding} {...page} {...size} />}
              onPick={lookClosely}
            />
            <Pager {...page} total={comparisons.length} step={practiceRowsAtOnce} what="comparisons" onFrom={setFrom} />
            {at("comparisons")}
          </Section>
        )}
        {detail === null || comparison === undefined ? null : (
          <Section name="Closely">
            <Closely result={result} detail={detail} comparison={comparison} onPick={show} />
          </Section>
        )}
        <Section name="Numbers">
          <ComparisonsTable result={result} />
          {at("records")}
        </Section>
        <Section name="Lots">
          <LotsTable result={result} onPick={show} />
        </Section>
        <Section name="Torque">
          <JointsTable joints={result.joints} />
          <TorqueFigures />
        </Section>
        <Section name="Method">
          <PracticeMethod result={result} />
        </Section>
        <Section name="Rows">
          <RowsBehind
            picked={picked}
            study={result.provenance.studyHash}
            hint="Click a life, a group or a lot above to see the rows of your sheets behind it."
          />
        </Section>
      </div>
      <Cautions kinds={["life", "torque", "seal"]} />
    </>
  );
}

function lookClosely({ practice }: Mark): void {
  if (practice !== null) move({ closely: JSON.parse(practice) as PracticeChoice });
}
