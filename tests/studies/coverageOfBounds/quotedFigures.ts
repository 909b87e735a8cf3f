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

/** What the product may quote: whether it does is settled on the choosing seeds, the shares are those of the reporting seeds. */
export function quotedFigures(choosing: readonly CellResult[], reporting: readonly CellResult[]): QuotedFigure[] {
  return (Object.keys(quotedMethods) as (keyof typeof quotedMethods)[]).flatMap((method) =>
    kinds.flatMap((kind) =>
      [0, 0.3].flatMap((spread) =>
        [3, 5, 10, 20, 50].flatMap((failures): QuotedFigure[] => {
          const tally = `${quotedMethods[method]}: B10`;
          const first = shareOf(alike(choosing, kind, spread, failures), tally);
          const second = shareOf(alike(reporting, kind, spread, failures), tally);
          if (!first || !second) return [];
          const isSaid = Math.max(first.below, first.above) > SAID;
          return [{ method, kind, spread, failures, below: second.below, above: second.above, isSaid }];
        }),
      ),
    ),
  );
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
