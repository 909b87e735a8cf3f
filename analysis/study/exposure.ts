import type { Life } from "../lives/types.ts";
import { settledAge } from "./settleAges.ts";
import { betweenDates, type ShopData } from "./shopData.ts";

/** Hours under observation for one mode, run by run, and the failure if there was one. */
export interface Exposure {
  readonly life: Life;
  readonly pieces: readonly { readonly on: string; readonly hours: number; readonly customer: string | null }[];
  readonly failure: { readonly on: string; readonly customer: string | null } | null;
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
    return hours > 0 && inOn !== null ? [{ on: inOn, hours, customer: data.runOf(row.key)?.customer ?? null }] : [];
  });
  const failed = life.kind !== "right";
  return {
    life,
    pieces,
    failure: failed ? { on: life.endedOn, customer: pieces.at(-1)?.customer ?? null } : null,
    looks: life.looks.filter(({ found }) => found !== "spoilt").map(({ on }) => ({ on })),
  };
}

export interface ExposureSum {
  readonly failures: number;
  readonly hours: number;
  readonly looks: number;
  readonly failed: readonly Life[];
}

/** Failures found and hours observed between two dates, for one customer or all. */
export function sumExposure(
  exposures: readonly Exposure[],
  from: string | null,
  to: string | null,
  customer: string | null,
): ExposureSum {
  let [hours, looks] = [0, 0];
  const failed: Life[] = [];
  for (const exposure of exposures) {
    for (const piece of exposure.pieces) {
      if (betweenDates(from, to, piece.on) && (customer === null || piece.customer === customer)) hours += piece.hours;
    }
    for (const look of exposure.looks) if (betweenDates(from, to, look.on)) looks++;
    const { failure } = exposure;
    if (failure && betweenDates(from, to, failure.on) && (customer === null || failure.customer === customer))
      failed.push(exposure.life);
  }
  return { failures: failed.length, hours, looks, failed };
}
