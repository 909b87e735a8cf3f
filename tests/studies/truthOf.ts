import { weibull } from "../../analysis/distributions/weibull.ts";
import { findRoot, gaussLegendre } from "../../analysis/numerics/index.ts";
import type { Row } from "../../analysis/records/descriptor.ts";
import { modeTruths } from "../../datasets/sample-fleet/generator/truth.ts";

/** The law by which lives of this item and mode were simulated, effects off. A mode with a delay is the sum of two. */
export function truthOf(
  item: string,
  mode: string,
  items: readonly Row<"tool_items">[],
): { quantile: (failed: number) => number } {
  const kind = items.find((row) => row.item === item)?.kind;
  const find = (name: string) =>
    modeTruths.find((truth) => truth.item === item && truth.mode === name) ??
    modeTruths.find((truth) => truth.item === kind && truth.mode === name);
  const truth = find(mode);
  if (!truth) throw new Error(`no truth for ${item}, ${mode}`);
  const law = weibull(truth.law);
  if (truth.after === null) return { quantile: (failed) => law.quantile(failed) };
  const before = find(truth.after);
  if (!before) throw new Error(`no truth for ${item}, ${truth.after}`);
  const first = weibull(before.law);
  // P(defect + delay <= t) = integral over u in (0, t) of f(u) F(t - u).
  const { nodes, weights } = gaussLegendre(64);
  const failedBy = (t: number) =>
    nodes.reduce(
      (sum, node, k) => sum + (weights[k] ?? 0) * t * first.density(t * node) * law.failedFraction(t * (1 - node)),
      0,
    );
  return { quantile: (failed) => findRoot((t) => failedBy(t) - failed, 1e-3, 20_000) };
}
