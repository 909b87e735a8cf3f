/** What the pictures of build practice draw, as tables to copy and export. */
import type { BuildPracticeResult, PracticeDetail } from "../../analysis/index.ts";
import type { Cell, ChartTable } from "./chartTable.ts";

export function practiceRows({ comparisons }: BuildPracticeResult): ChartTable {
  const kinds = ["unadjusted", "adjusted", "selected"] as const;
  return {
    columns: [
      "practice",
      "name",
      "at",
      "against",
      "unit",
      "item",
      "mode",
      "verdict",
      "failures",
      "lives",
      "serials",
      ...kinds.flatMap((kind) => [`${kind}_times`, `${kind}_lower`, `${kind}_upper`, `${kind}_confidence`]),
      "p_adjusted",
      "p_over_all",
      "share_left",
      "goes_along_with",
    ],
    rows: comparisons.map((one): Cell[] => [
      one.practice,
      one.level,
      one.at,
      one.against,
      one.unit,
      one.item,
      one.mode,
      one.verdict,
      one.failures,
      one.lives,
      one.serials,
      ...kinds.flatMap((kind): Cell[] => {
        const multiplier = one[kind];
        return [
          multiplier?.value ?? null,
          multiplier?.lower ?? null,
          multiplier?.upper ?? null,
          multiplier?.confidence ?? null,
        ];
      }),
      one.adjusted?.pValue ?? null,
      one.screenedPValue,
      one.shareLeft,
      one.goesAlongWith[0]?.what ?? null,
    ]),
  };
}

/** The curve first, then the lives. */
export const lifeAgainstRows = ({ curve, histories }: PracticeDetail): ChartTable => ({
  columns: ["what", "at", "times", "lower", "upper", "sound_at_h", "failed_by_h", "serial", "item", "life"],
  rows: [
    ...(curve?.at ?? []).map((at, index): Cell[] => [
      "curve",
      at,
      curve?.value[index] ?? null,
      curve?.lower[index] ?? null,
      curve?.upper[index] ?? null,
      null,
      null,
      null,
      null,
      null,
    ]),
    ...histories.map((life): Cell[] => [
      "life",
      life.at ?? life.name,
      null,
      null,
      null,
      life.lower,
      life.upper,
      life.serial,
      life.item,
      life.lifeId,
    ]),
  ],
});

export const practiceGroupRows = ({ groups }: PracticeDetail): ChartTable => ({
  columns: [
    "group",
    "from",
    "to",
    "lives",
    "failures",
    "step_from_h",
    "step_to_h",
    "share_still_good",
    "lower",
    "upper",
  ],
  rows: groups.flatMap(({ name, from, to, lives, failures, steps }) =>
    steps.map((step): Cell[] => [
      name,
      from,
      to,
      lives,
      failures,
      step.from,
      step.to,
      step.survival,
      step.lower,
      step.upper,
    ]),
  ),
});
