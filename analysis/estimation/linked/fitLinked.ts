import { AnalysisError } from "../../errors.ts";
import { climbFree, type Region } from "./climbFree.ts";
import { type Jet, linkedLikelihood } from "./linkedLikelihood.ts";
import type { LinkedHistory, WeibullPair } from "./types.ts";

export interface LinkedFound extends WeibullPair {
  readonly maximum: "found";
  readonly logLikelihood: number;
  readonly iterations: number;
  /** Largest absolute derivative of the log likelihood by the four log parameters. */
  readonly largestScore: number;
  readonly theta: readonly number[];
  /** False where the delay sits at the edge of the region searched: the lives do not tell how long it is. */
  readonly delaySettled: boolean;
  readonly counts: LinkedCounts;
}

export interface LinkedNotFound {
  readonly maximum: "no failures" | "not converged" | "shape not bounded above" | "scale not bounded";
  readonly iterations: number;
  readonly counts: LinkedCounts;
}

export interface LinkedCounts {
  readonly histories: number;
  readonly defects: number;
  readonly failures: number;
}

export type LinkedFit = LinkedFound | LinkedNotFound;

/**
 * Joint maximum likelihood fit of a defect that leads to a failure: Weibull time to the defect, Weibull delay after it,
 * independent of each other.
 *
 * @param histories  One a restoration, ages >= 0 in one unit; at least one.
 * Errors            "no-lives"; "bad-life" for ages that contradict each other (a failure before its defect).
 * Accuracy          Newton from two starts within `regionFor`; stopped where no log parameter moves by 1e-9.
 */
export function fitLinked(histories: readonly LinkedHistory[]): LinkedFit {
  if (histories.length === 0) throw new AnalysisError("no-lives", { method: "linked modes" });
  histories.forEach(checkHistory);
  const counts = {
    histories: histories.length,
    defects: histories.filter(({ defect }) => defect.to !== null).length,
    failures: histories.filter(({ failure }) => failure.to !== null).length,
  };
  if (counts.failures === 0 || counts.defects === 0) return { maximum: "no failures", iterations: 0, counts };

  const region = regionFor(histories);
  let best: { theta: Float64Array; jet: Jet; iterations: number } | null = null;
  for (const start of startingValues(histories)) {
    const climbed = climbFree((theta) => linkedLikelihood(histories, theta), start, [0, 1, 2, 3], region);
    if (climbed.converged && (best === null || climbed.jet[0]! > best.jet[0]! + 1e-9)) best = climbed;
  }
  if (best === null) return { maximum: "not converged", iterations: 0, counts };
  const [k1, s1, k2, s2] = [best.theta[0]!, best.theta[1]!, best.theta[2]!, best.theta[3]!];
  const atEdge = (parameter: number) =>
    best.theta[parameter]! <= region.low[parameter]! || best.theta[parameter]! >= region.high[parameter]!;
  if (atEdge(0)) return { maximum: "shape not bounded above", iterations: best.iterations, counts };
  if (atEdge(1)) return { maximum: "scale not bounded", iterations: best.iterations, counts };
  return {
    maximum: "found",
    defect: { shape: Math.exp(k1), scale: Math.exp(s1) },
    delay: { shape: Math.exp(k2), scale: Math.exp(s2) },
    logLikelihood: best.jet[0]!,
    iterations: best.iterations,
    largestScore: Math.max(...[0, 1, 2, 3].filter((i) => !atEdge(i)).map((i) => Math.abs(best.jet[1 + i]!))),
    theta: [k1, s1, k2, s2],
    delaySettled: !atEdge(2) && !atEdge(3),
    counts,
  };
}

/** Shapes from 0.1 to 30; scales from a ten-thousandth of the longest age to a million times it. */
export function regionFor(histories: readonly LinkedHistory[]): Region {
  const longest = histories.reduce(
    (most, { defect, failure }) => Math.max(most, defect.from, defect.to ?? 0, failure.from, failure.to ?? 0),
    0,
  );
  const scale = Math.log(longest > 0 ? longest : 1);
  const [low, high] = [scale + Math.log(1e-4), scale + Math.log(1e6)];
  return { low: [Math.log(0.1), low, Math.log(0.1), low], high: [Math.log(30), high, Math.log(30), high] };
}

function checkHistory({ defect, failure, entry }: LinkedHistory, index: number): void {
  const bad = (why: string): never => {
    throw new AnalysisError("bad-life", { row: index + 1, why });
  };
  if (!(defect.from >= 0 && failure.from >= 0 && entry >= 0)) bad("negative");
  if ((defect.to !== null && defect.to < defect.from) || (failure.to !== null && failure.to < failure.from))
    bad("lower above upper");
  if (failure.to !== null && failure.to <= defect.from) bad("failed before its defect");
}

/** Scale-free starts: the middle known age of defects, delays a tenth and a half of it, shapes 1 and 2. */
function startingValues(histories: readonly LinkedHistory[]): Float64Array[] {
  const ages = histories
    .map(({ defect, failure }) => Math.max(defect.to ?? defect.from, failure.to ?? failure.from))
    .sort((a, b) => a - b);
  const middle = ages[Math.floor(ages.length / 2)] || 1;
  const failed = histories.filter(({ failure }) => failure.to !== null).length / histories.length;
  const scale = Math.log(middle) - Math.log(Math.max(failed, 0.02)) / 2.5;
  return [0.1, 0.4].map((share) => Float64Array.of(Math.log(2), scale, 0, Math.log(middle * share)));
}
