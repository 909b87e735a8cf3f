import type { Life } from "../lives/types.ts";
import { settledAge } from "./settleAges.ts";
import { betweenDates, type ShopData } from "./shopData.ts";
import type { Scope } from "./types.ts";

/** The part of one run under observation: from which age on, for how long. */
export interface ExposurePiece {
  readonly run: string;
  readonly on: string;
  readonly from: number;
  readonly hours: number;
  readonly customer: string | null;
  readonly well: string | null;
}

/** Hours under observation for one mode, run by run, and the failure if there was one. */
export interface Exposure {
  readonly life: Life;
  readonly pieces: readonly ExposurePiece[];
  readonly failure: { readonly on: string; readonly customer: string | null; readonly well: string | null } | null;
  readonly looks: readonly { readonly on: string }[];
}

/**
 * Hours of a life in which its mode was under observation, laid on the calendar by the day each run came in.
 * For a hidden mode these are inspected hours: run hours up to the last look that could see it (the finding look
 * included). For an evident mode: hours up to its failure, or to the last run known without it.
 * Hours that nobody has looked at yet are not exposure: counting them would make a hidden mode look rarer than it is.
 */
export function exposureOf(life: Life, announces: "evident" | "hidden", data: ShopData): Exposure {
  const rate = data.hoursPerDay;
  const lastLook = life.looks.findLast(({ found }) => found !== "spoilt");
  const end =
    life.kind === "right"
      ? settledAge(announces === "hidden" && lastLook ? lastLook.age : life.lower, rate)
      : settledAge(life.upper ?? life.lower, rate);
  const pieces = life.runs.flatMap(({ row, inOn, from, to }) => {
    const start = Math.max(settledAge(from, rate), life.entry);
    const hours = Math.min(settledAge(to, rate), end) - start;
    if (!(hours > 0) || inOn === null) return [];
    const run = data.runOf(row.key);
    return [{ run: row.key, on: inOn, from: start, hours, customer: run?.customer ?? null, well: run?.well ?? null }];
  });
  const last = pieces.at(-1);
  const failed = life.kind !== "right";
  return {
    life,
    pieces,
    failure: failed ? { on: life.endedOn, customer: last?.customer ?? null, well: last?.well ?? null } : null,
    looks: life.looks.filter(({ found }) => found !== "spoilt").map(({ on }) => ({ on })),
  };
}

export interface ExposureSum {
  readonly failures: number;
  readonly hours: number;
  readonly looks: number;
  readonly failed: readonly Life[];
}

/** Whose hours and failures, and of when. */
export type ExposureScope = Pick<Scope, "from" | "to" | "customer" | "wells">;

/** Failures found and hours observed between two dates, for one customer and some wells or all. */
export function sumExposure(exposures: readonly Exposure[], scope: ExposureScope): ExposureSum {
  let [hours, looks] = [0, 0];
  const failed: Life[] = [];
  for (const exposure of exposures) {
    for (const piece of exposure.pieces) if (ranInScope(scope, piece)) hours += piece.hours;
    for (const look of exposure.looks) if (betweenDates(scope.from, scope.to, look.on)) looks++;
    const { failure } = exposure;
    if (failure && ranInScope(scope, failure)) failed.push(exposure.life);
  }
  return { failures: failed.length, hours, looks, failed };
}

/** Whether a run, or what was found of it, counts in a scope. */
export function ranInScope(
  { from, to, customer, wells }: ExposureScope,
  run: { readonly on: string; readonly customer: string | null; readonly well: string | null },
): boolean {
  return (
    betweenDates(from, to, run.on) &&
    (customer === null || run.customer === customer) &&
    (wells === undefined || (run.well !== null && wells.includes(run.well)))
  );
}
