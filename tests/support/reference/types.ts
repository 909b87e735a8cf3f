/** What the reference runner reads, and what a comparer of one kind of case is. */
import { z } from "zod";

export const referenceCase = z.object({
  name: z.string(),
  kind: z.string(),
  source: z.string(),
  computedWith: z.string().nullable(),
  publishedValues: z.array(z.record(z.string(), z.unknown())).nullable(),
  notes: z.unknown(),
  data: z.unknown(),
  expected: z.unknown(),
  tolerance: z.number().positive(),
});
export type ReferenceCase = z.infer<typeof referenceCase>;

export const referenceFile = z.object({ topic: z.string(), notes: z.unknown(), cases: z.array(referenceCase) });
export type ReferenceFile = z.infer<typeof referenceFile>;

/** Numbers, null for "infinite, unbounded, not existing", words, or lists and records of them. */
export type Value = number | string | boolean | null | readonly Value[] | { readonly [name: string]: Value };

export interface CompareOptions {
  /** Relative tolerance; the case's own by default. */
  readonly tolerance?: number;
  /**
   * Where the reference itself is shown to be inexact: values outside the case's tolerance but within this one are
   * counted apart as disputed, with the reason. They still count in the worst relative difference.
   */
  readonly disputed?: { readonly within: number; readonly because: string };
  /** Values below 1e-12 are compared relatively too, instead of to 1e-12. */
  readonly relativeOnly?: boolean;
  /** Compare to this absolute distance instead: half a unit of the last printed digit. */
  readonly absolute?: number;
}

/** Collects what a comparer finds. */
export interface Report {
  /** Compares recursively; a null, word or truth value must be the same, a number within tolerance. */
  compare(what: string, computed: Value | undefined, expected: Value, options?: CompareOptions): void;
  /** Counts values that this project does not compute (yet). */
  notCovered(what: string, values: number): void;
}

/** Compares every expected value of a case, or says that it is not covered. Throws where `data` has not the shape of its kind. */
export type Comparer = (one: ReferenceCase, report: Report) => void;

/** Kind of case to its comparer. */
export type Comparers = Readonly<Record<string, Comparer>>;
