/** Corners of the lines of a survival chart, in px. */
import type { ItemLifeResult } from "../../analysis/index.ts";
import { between, type Point } from "./kit/paths.ts";
import type { SurvivalLayout } from "./survivalLayout.ts";
import { px } from "./text/numbers.ts";

/** The fitted line or one of its bounds, within the ages drawn. */
export const curvePoints = (
  { survival }: ItemLifeResult,
  { x, y }: SurvivalLayout,
  line: "value" | "lower" | "upper",
): Point[] =>
  survival === null
    ? []
    : between(
        survival.age.map((age, index): Point => [x(age), y(survival[line][index] ?? 0)]),
        ...(x.range() as [number, number]),
      );

/** Steps where the estimate is determined; nothing is drawn inside an undetermined region. */
export function stepPath({ nonparametric, longestAge }: ItemLifeResult, { x, y }: SurvivalLayout): string {
  if (nonparametric.method === "none") return "";
  let path = `M${px(x(0))} ${px(y(1))}`;
  for (const step of nonparametric.steps) {
    path += `H${px(x(step.from))}${step.to > step.from ? `M${px(x(step.to))} ${px(y(step.survival))}` : `V${px(y(step.survival))}`}`;
  }
  return `${path}H${px(x(Math.max(longestAge, nonparametric.steps.at(-1)?.to ?? 0)))}`;
}

/** The same steps as one line through their undetermined regions; labels keep clear of it. */
export function observedPoints({ nonparametric, longestAge }: ItemLifeResult, { x, y }: SurvivalLayout): Point[] {
  if (nonparametric.method === "none") return [];
  const points: Point[] = [[x(0), y(1)]];
  for (const step of nonparametric.steps) {
    points.push([x(step.from), points.at(-1)?.[1] ?? y(1)], [x(step.to), y(step.survival)]);
  }
  points.push([x(Math.max(longestAge, nonparametric.steps.at(-1)?.to ?? 0)), points.at(-1)?.[1] ?? y(1)]);
  return points;
}

/** Corners of the bounds of the observed steps; none where the method has none. */
export function boundPoints(
  { nonparametric, longestAge }: ItemLifeResult,
  { x, y }: SurvivalLayout,
  side: "lower" | "upper",
): Point[] {
  const corners = nonparametric.steps.flatMap((step): Point[] => {
    const bound = step[side];
    return bound === null ? [] : [[x(step.to), y(bound)]];
  });
  const points = corners.flatMap((corner, index): Point[] => {
    const before = corners[index - 1];
    return before ? [[corner[0], before[1]], corner] : [corner];
  });
  const last = points.at(-1);
  return last ? [...points, [Math.max(last[0], x(longestAge)), last[1]]] : [];
}

/** Whether the fitted line is drawn past the longest age followed. */
export const isBeyond = ({ survival, longestAge }: ItemLifeResult, { plot, x }: SurvivalLayout): boolean =>
  x(longestAge) < plot.right - 2 && (survival?.age.at(-1) ?? 0) > 1.01 * longestAge;
