import { alike, type Kind, kinds, shareOf } from "./summaries.ts";
import type { CellResult } from "./tallies.ts";

/** A tail over this on the choosing seeds is said beside the bounds: two fifths more often than meant. Own choice, no source. */
const SAID = 0.07;

const quotedMethods = {
  "likelihood ratio": "likelihood ratio",
  Wald: "Wald",
  "by serial": "by serial, bias-corrected",
} as const;

export interface QuotedFigure {
  readonly method: keyof typeof quotedMethods;
  readonly kind: Kind;
  readonly spread: number;
  readonly failures: number;
  readonly below: number;
  readonly above: number;
  readonly isSaid: boolean;
}

const failureCounts = [3, 5, 10, 20, 50];

/**
 * What the product may quote. Whether it does is settled on the choosing seeds, for a method and a number of failures, over all ways to know
 * them and both spreads, lest chance pick the rows; the shares are those of the reporting seeds.
 */
export function quotedFigures(choosing: readonly CellResult[], reporting: readonly CellResult[]): QuotedFigure[] {
  return (Object.keys(quotedMethods) as (keyof typeof quotedMethods)[]).flatMap((method) => {
    const tally = `${quotedMethods[method]}: B10`;
    const said = failureCounts.filter((failures) => {
      const all = kinds.flatMap((kind) => [0, 0.3].flatMap((spread) => alike(choosing, kind, spread, failures)));
      const share = shareOf(all, tally);
      return share !== null && Math.max(share.below, share.above) > SAID;
    });
    return kinds.flatMap((kind) =>
      [0, 0.3].flatMap((spread) =>
        failureCounts.flatMap((failures): QuotedFigure[] => {
          const share = shareOf(alike(reporting, kind, spread, failures), tally);
          if (!share) return [];
          const { below, above } = share;
          return [{ method, kind, spread, failures, below, above, isSaid: said.includes(failures) }];
        }),
      ),
    );
  });
}

/** The figures as a module of the engine. */
export function figuresModule(quoted: readonly QuotedFigure[]): string {
  const rows = quoted
    .filter(({ isSaid }) => isSaid)
    .map(
      ({ method, kind, spread, failures, below, above }) =>
        `  { method: "${method}", kind: "${kind}", spread: ${spread}, failures: ${failures}, below: ${Number(below.toFixed(3))}, above: ${Number(above.toFixed(3))} },`,
    );
  return `/** Written by \`npm run coverage-study\` from tests/studies/results/coverage-study.md: do not edit. */

export interface CoverageFigure {
  readonly method: "likelihood ratio" | "Wald" | "by serial";
  /** How failures are known: at a known age, or found at up to 4 looks a life, or at more. */
  readonly kind: "known age" | "few looks" | "many looks";
  /** Tool-to-tool spread: variance of the multiplier of the hazard. */
  readonly spread: 0 | 0.3;
  /** Expected number. */
  readonly failures: number;
  /** Shares of simulated fleets whose true B10 lies below the lower, above the upper end of 90 % two-sided bounds; 0.05 is meant. */
  readonly below: number;
  readonly above: number;
}

/** Where either share is known to be well over 0.05. */
export const coverageFigures: readonly CoverageFigure[] = [
${rows.join("\n")}
];
`;
}
