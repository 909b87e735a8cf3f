import { misleadingPractices } from "../../statement/guard/types.ts";
import { countOf, listOf, sentenceCase } from "../inWords.ts";
import { sayCautions } from "../sayCautions.ts";
import { type StatementBlock, type StatementSection, say } from "./document.ts";
import { practiceNames, sayGuard, sayGuardNumber, sayHonestNumber } from "./sayGuard.ts";
import type { Sources } from "./sources.ts";

/** What the statement does not say, what would have misled, and what cannot be mended. */
export function cautionsSection({ statement, guard, own }: Sources): StatementSection {
  const stays = guard.filter(({ state }) => state === "stays");
  const right = guard.filter(({ state }) => state === "put right");
  const silent = misleadingPractices.filter((practice) => !guard.some((one) => one.practice === practice));
  const found: StatementBlock = {
    kind: "table",
    id: "both-ways",
    title: "The numbers both ways",
    columns: [
      { title: "Practice", kind: "text" },
      { title: "Would have said", kind: "text" },
      { title: "The records say", kind: "text" },
      { title: "State", kind: "text" },
    ],
    rows: guard.map((one) => [
      sentenceCase(practiceNames[one.practice]),
      sayGuardNumber(one.misleading),
      sayHonestNumber(one),
      one.state === "stays" ? "cannot be mended" : "put right",
    ]),
    note: null,
    result: own,
  };
  return {
    id: "cautions",
    title: "What this statement does not say",
    blocks: [
      ...(stays.length === 0
        ? []
        : [
            {
              kind: "caution" as const,
              title: "Cannot be mended from these records",
              items: stays.map((one) => say`${sayGuard(one)}`),
            },
          ]),
      ...(right.length === 0
        ? []
        : [
            {
              kind: "caution" as const,
              title: "Would have misled, and was put right",
              items: right.map((one) => say`${sayGuard(one)}`),
            },
          ]),
      ...(guard.length === 0 ? [] : [found]),
      {
        kind: "paragraph",
        text: say`Checked for ${misleadingPractices.length} misleading practices: ${countOf(guard.length, "was", "were")} found.${silent.length === 0 ? "" : ` Looked for and not found: ${listOf(silent.map((practice) => practiceNames[practice]))}.`}`,
      },
      {
        kind: "caution",
        title: "Cautions",
        items: [
          ...sayCautions("life"),
          ...sayCautions("dispatch").slice(1),
          "An average over many tools says nothing certain of one tool.",
          ...(statement.sample ? ["The records behind this statement are invented sample data."] : []),
        ].map((text) => say`${text}`),
      },
    ],
  };
}
