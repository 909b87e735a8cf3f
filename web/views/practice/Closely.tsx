import {
  type BuildPracticeResult,
  type PracticeComparison,
  type PracticeDetail,
  sayEntangled,
  sayPracticeComparison,
  sayPracticeFinding,
} from "../../../analysis/index.ts";
import { LifeAgainstChart } from "../../charts/LifeAgainstChart.tsx";
import { PracticeSurvivalChart } from "../../charts/PracticeSurvivalChart.tsx";
import { lifeAgainstRows, practiceGroupRows } from "../../charts/practiceRows.ts";
import { fileName } from "../../state/saveFile.ts";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import type { Mark } from "../parts/marks.ts";
import { AnswersTable } from "./AnswersTable.tsx";
import { WhatWouldSettle } from "./WhatWouldSettle.tsx";
import { WhoDidWhatTables } from "./WhoDidWhatTables.tsx";

interface CloselyProps {
  readonly result: BuildPracticeResult;
  readonly detail: PracticeDetail;
  readonly comparison: PracticeComparison;
  readonly onPick: (title: string, lifeIds: readonly string[]) => void;
}

/** One comparison: its sentence, life against the number, the groups, other answers, who did what, what would settle it. */
export function Closely({ result, detail, comparison, onPick }: CloselyProps) {
  const pick = ({ says, lifeIds }: Mark) => {
    if (lifeIds.length > 0) onPick(says, lifeIds);
  };
  const file = (what: string) =>
    fileName([comparison.practice, comparison.item, comparison.mode, what], "").slice(0, -1);
  const curveFinding = sayPracticeFinding(result, "curve");
  const groupFinding = sayPracticeFinding(result, "groups");
  const isNumber = comparison.at !== null;
  return (
    <>
      <div class="looked-at">
        <p>
          <strong>{sayPracticeComparison(comparison)}</strong>
        </p>
        {comparison.verdict === "cannot tell" ? null : <p class="muted">{sayEntangled(comparison)}</p>}
      </div>
      <div class={isNumber ? "side-by-side" : undefined}>
        {isNumber ? (
          <ChartPanel
            name={`life against ${comparison.title.toLowerCase()}`}
            file={file("life")}
            sentence={`${curveFinding}. ${sayPracticeComparison(comparison)}`}
            table={() => lifeAgainstRows(detail)}
            draw={(size) => (
              <LifeAgainstChart result={detail} comparison={comparison} finding={curveFinding} {...size} />
            )}
            onPick={pick}
          />
        ) : null}
        <ChartPanel
          name="the groups"
          file={file("groups")}
          sentence={`${groupFinding}. ${sayPracticeComparison(comparison)}`}
          table={() => practiceGroupRows(detail)}
          draw={(size) => (
            <PracticeSurvivalChart result={detail} comparison={comparison} finding={groupFinding} {...size} />
          )}
          onPick={pick}
        />
      </div>
      {comparison.leadsTo === null ? null : (
        <p class="muted small">
          No step lines are drawn: a {comparison.leadsTo} decides when one looks at the {comparison.mode}, so steps of
          it alone would mislead. The multiplier is fitted together with the {comparison.leadsTo}.
        </p>
      )}
      <div class="side-by-side">
        <AnswersTable detail={detail} comparison={comparison} />
        <WhatWouldSettle detail={detail} comparison={comparison} />
      </div>
      <WhoDidWhatTables detail={detail} comparison={comparison} />
    </>
  );
}
