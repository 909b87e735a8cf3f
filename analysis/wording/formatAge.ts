import type { Age } from "../lives/types.ts";
import { formatNumber } from "./formatNumber.ts";

/** Hours without their unit. Less than half a minute is no age that anyone wrote down: "0". */
export const hoursNumber = (hours: number): string => formatNumber(Math.abs(hours) < 0.01 ? 0 : hours);

/** Hours with their unit: "62.5 h". null is "not known". */
export function formatHours(hours: number | null): string {
  return hours === null ? "not known" : `${hoursNumber(hours)} h`;
}

/** An age on the operating clock: "62.5 h", or "40–88 h" where only a range is known. null is "not known". */
export function formatAge(age: Age | null): string {
  if (age === null || typeof age === "number") return formatHours(age);
  const [low, high] = age;
  const [from, to] = [hoursNumber(low), hoursNumber(high)];
  return from === to ? `${from} h` : `${from}–${to} h`;
}
