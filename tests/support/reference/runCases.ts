import { comparers as allComparers } from "./comparers.ts";
import type { CompareOptions, Comparers, ReferenceFile, Report, Value } from "./types.ts";

export interface Outside {
  readonly at: string;
  readonly computed: Value | undefined;
  readonly expected: Value;
  readonly relativeDifference: number | null;
}

export interface TopicOutcome {
  readonly topic: string;
  readonly cases: number;
  readonly compared: number;
  readonly outside: readonly Outside[];
  /** What is not computed here, to the number of expected values. */
  readonly notCovered: ReadonlyMap<string, number>;
  /** Outside the case's tolerance where the reference is shown to be inexact, by reason. */
  readonly disputed: ReadonlyMap<string, number>;
  readonly worstRelativeDifference: number;
  readonly unknownKinds: readonly string[];
}

/** Runs every case of a file. A case whose data have the wrong shape counts as outside. */
export function runCases(file: ReferenceFile, comparers: Comparers = allComparers): TopicOutcome {
  const outside: Outside[] = [];
  const notCovered = new Map<string, number>();
  const disputed = new Map<string, number>();
  const unknownKinds = new Set<string>();
  let compared = 0;
  let worst = 0;

  for (const one of file.cases) {
    const comparer = comparers[one.kind];
    if (!comparer) {
      unknownKinds.add(one.kind);
      continue;
    }
    const visit = (at: string, computed: Value | undefined, expected: Value, options: CompareOptions): void => {
      if (Array.isArray(expected)) {
        if (!Array.isArray(computed) || computed.length !== expected.length) {
          compared++;
          outside.push({ at: `${at} (length)`, computed, expected, relativeDifference: null });
          return;
        }
        expected.forEach((value: Value, index) => {
          visit(`${at}[${index}]`, computed[index], value, options);
        });
        return;
      }
      if (isRecord(expected)) {
        for (const [name, value] of Object.entries(expected)) {
          visit(`${at}.${name}`, isRecord(computed) ? computed[name] : undefined, value, options);
        }
        return;
      }
      compared++;
      if (typeof expected !== "number" || typeof computed !== "number") {
        if (computed !== expected) outside.push({ at, computed, expected, relativeDifference: null });
        return;
      }
      const difference = Math.abs(computed - expected);
      const relative = difference === 0 ? 0 : difference / Math.abs(expected);
      const tolerance = options.tolerance ?? one.tolerance;
      if (options.absolute !== undefined) {
        // The printed digits end there: such a difference says nothing about accuracy, so it does not count as worst.
        if (!(difference <= options.absolute * (1 + 1e-9))) {
          outside.push({ at, computed, expected, relativeDifference: relative });
        }
        return;
      }
      if (!options.relativeOnly && Math.abs(expected) < 1e-12 && difference < 1e-12) return;
      if (!(relative <= worst)) worst = relative;
      if (relative <= tolerance) return;
      const doubt = options.disputed;
      if (doubt && relative <= doubt.within) disputed.set(doubt.because, (disputed.get(doubt.because) ?? 0) + 1);
      else outside.push({ at, computed, expected, relativeDifference: relative });
    };
    const report: Report = {
      compare: (what, computed, expected, options = {}) => {
        visit(`${one.name}: ${what}`, computed, expected, options);
      },
      notCovered: (what, values) => {
        notCovered.set(what, (notCovered.get(what) ?? 0) + values);
      },
    };
    try {
      comparer(one, report);
    } catch (error) {
      compared++;
      const message = (error instanceof Error ? error.message : String(error)).replace(/\s+/g, " ");
      outside.push({ at: `${one.name}: ${message}`, computed: "error", expected: null, relativeDifference: null });
    }
  }
  return {
    topic: file.topic,
    cases: file.cases.length,
    compared,
    outside,
    notCovered,
    disputed,
    worstRelativeDifference: worst,
    unknownKinds: [...unknownKinds],
  };
}

function isRecord(value: Value | undefined): value is { readonly [name: string]: Value } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Number of single values inside an expected structure. */
export function countValues(value: unknown): number {
  if (Array.isArray(value)) return value.reduce((sum: number, one) => sum + countValues(one), 0);
  if (typeof value === "object" && value !== null) return countValues(Object.values(value));
  return 1;
}
