import type { Age } from "./types.ts";

/** An age while it is worked out: always both ends. Hours are sums of decimal cells, so ends are rounded on the way out. */
export interface Span {
  readonly low: number;
  readonly high: number;
}

export const span = (low: number, high: number = low): Span => ({ low, high });
export const plus = (a: Span, b: Span): Span => ({ low: a.low + b.low, high: a.high + b.high });

/** To a millionth of an hour: takes off the binary dust of adding decimal hours, so that 60 + 55.5 is 115.5 in any order. */
const round = (hours: number): number => Math.round(hours * 1e6) / 1e6;

export function toAge({ low, high }: Span): Age {
  const [a, b] = [round(low), round(high)];
  return a === b ? a : [a, b];
}

export const lowOf = (age: Age): number => (typeof age === "number" ? age : age[0]);
export const highOf = (age: Age): number => (typeof age === "number" ? age : age[1]);
export const spanOf = (age: Age): Span => span(lowOf(age), highOf(age));

export function addAges(ages: readonly Age[]): Age {
  return toAge(ages.map(spanOf).reduce(plus, span(0)));
}
