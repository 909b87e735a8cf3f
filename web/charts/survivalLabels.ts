import type { ItemLifeResult } from "../../analysis/index.ts";
import {
  type Box,
  blockBox,
  boxesAlong,
  type Candidate,
  overlaps,
  placeBlock,
  type TextBlock,
} from "./kit/placement.ts";
import { textSize } from "./kit/Text.tsx";
import { onCurve, type SurvivalLayout } from "./survivalLayout.ts";
import { boundPoints, curvePoints, isBeyond, observedPoints } from "./survivalLines.ts";
import { readingsOf } from "./survivalReadings.ts";

export interface PlacedLabel {
  readonly block: TextBlock;
  readonly tone: "ink" | "muted" | "slate";
  /** Stands on something drawn. */
  readonly backed: boolean;
}

/** Direct labels: readings first, then what each line is, each where it hides least. */
export function placeLabels(result: ItemLifeResult, layout: SurvivalLayout): PlacedLabel[] {
  const { plot, x, y } = layout;
  const bounds: Box = {
    x: plot.left + 2,
    y: plot.top + 2,
    width: plot.right - plot.left - 2,
    height: plot.bottom - plot.top - 6,
  };
  const readings = readingsOf(result, layout);
  const drawn: Box[] = [
    ...(["value", "lower", "upper"] as const).flatMap((line) => boxesAlong(curvePoints(result, layout, line))),
    ...boxesAlong(observedPoints(result, layout)),
    ...(["lower", "upper"] as const).flatMap((side) => boxesAlong(boundPoints(result, layout, side))),
    ...readings.flatMap((one) =>
      boxesAlong([
        [one.x, one.y],
        [one.x, plot.bottom],
      ]),
    ),
    ...readings.flatMap(({ across, y: at }) =>
      across
        ? boxesAlong([
            [across[0], at],
            [across[1], at],
          ])
        : [],
    ),
  ];
  const placed: PlacedLabel[] = [];
  const add = (
    tone: PlacedLabel["tone"],
    text: Pick<TextBlock, "lines" | "size" | "weight">,
    candidates: readonly Candidate[],
  ) => {
    const block = placeBlock(text, candidates, { labels: placed.map((one) => blockBox(one.block)), drawn, bounds });
    if (block) placed.push({ block, tone, backed: drawn.some((one) => overlaps(one, blockBox(block))) });
  };
  for (const reading of readings) {
    const right = reading.across ? reading.across[1] : reading.x;
    const left = reading.across ? reading.across[0] : reading.x;
    add("ink", { lines: reading.lines, size: textSize, weight: "regular" }, [
      ...(reading.upright
        ? [
            { x: reading.x - 8, y: reading.upright[1] + 18, anchor: "end" as const },
            { x: reading.x + 8, y: reading.upright[1] + 22, anchor: "start" as const },
            ...below(reading.x, plot),
          ]
        : []),
      { x: right + 9, y: reading.y - 3, anchor: "start" },
      { x: right + 9, y: reading.y - 16, anchor: "start" },
      { x: right + 9, y: reading.y + 8, anchor: "start" },
      { x: reading.x + 8, y: reading.y - 26, anchor: "start" },
      { x: left - 8, y: reading.y + 18, anchor: "end" },
      ...below(reading.x, plot),
    ]);
  }
  const edge = x(result.longestAge);
  if (isBeyond(result, layout)) {
    const down = [16, 34, 52, 70, 90, 120];
    for (const lines of [["beyond experience"], ["beyond", "experience"], ["beyond experience →"]]) {
      const before = placed.length;
      const arrow = lines[0]?.endsWith("→") ?? false;
      add("muted", { lines, size: textSize, weight: "regular" }, [
        ...down.map(
          (by): Candidate => ({ x: arrow ? edge - 5 : edge + 6, y: plot.top + by, anchor: arrow ? "end" : "start" }),
        ),
      ]);
      if (placed.length > before) break;
    }
  }
  const share = (age: number): number => (result.survival ? (onCurve(result.survival, age) ?? 0) : 0);
  if (result.survival !== null) {
    add("slate", { lines: ["fitted"], size: textSize, weight: "semibold" }, [
      ...[0.7, 0.6, 0.8, 0.4, 0.25].map(
        (part): Candidate => ({
          x: x(part * result.longestAge) + 8,
          y: y(share(part * result.longestAge)) - 8,
          anchor: "start",
        }),
      ),
    ]);
  } else {
    const middle = (plot.left + plot.right) / 2;
    add("muted", { lines: unfitted(result), size: textSize, weight: "regular" }, [
      ...[0.5, 0.7, 0.85, 0.35, 0.2].flatMap((part): Candidate[] =>
        [middle, plot.left + 0.28 * (plot.right - plot.left), plot.left + 0.75 * (plot.right - plot.left)].map(
          (at) => ({
            x: at,
            y: plot.top + part * (plot.bottom - plot.top),
            anchor: "middle",
          }),
        ),
      ),
    ]);
  }
  const steps = observedPoints(result, layout);
  if (steps.length > 0)
    add("ink", { lines: ["as observed"], size: textSize, weight: "semibold" }, [
      ...[0.55, 0.7, 0.4, 0.85, 0.25, 0.97].flatMap((part): Candidate[] => {
        const at = steps[Math.min(steps.length - 1, Math.floor(part * steps.length))] ?? [plot.left, plot.top];
        return [
          { x: at[0] - 8, y: at[1] + 18, anchor: "end" },
          { x: at[0] + 8, y: at[1] - 8, anchor: "start" },
        ];
      }),
    ]);
  return placed;
}

/** Places near the foot of an upright line, on either side. */
const below = (x: number, plot: SurvivalLayout["plot"]): Candidate[] =>
  [30, 64, 98, 132].flatMap((up): Candidate[] => [
    { x: x + 8, y: plot.bottom - up, anchor: "start" },
    { x: x - 8, y: plot.bottom - up, anchor: "end" },
  ]);

/** Why there is no fitted line. */
function unfitted({ counts }: ItemLifeResult): string[] {
  if (counts.failures === 0) return ["No failures yet,", "so no line is fitted"];
  return ["The failures cannot", "tell a line yet"];
}
