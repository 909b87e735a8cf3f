import type { DateOrder } from "./mapping.ts";

/** The three numbers of a date as written, or a date that names its own order (ISO, or a month in words). */
export type DateParts =
  | { readonly kind: "own order"; readonly year: number; readonly month: number; readonly day: number }
  | { readonly kind: "column order"; readonly first: number; readonly second: number; readonly year: number };

const months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const otherMonths: Readonly<Record<string, number>> = { mär: 3, mrz: 3, mai: 5, okt: 10, dez: 12 };
const time = "(?:[T ,]+\\d{1,2}[:.h]\\d{2}(?:[:.]\\d{2}(?:\\.\\d+)?)?\\s*(?:[ap]m)?(?:Z|[-+]\\d{2}:?\\d{2})?)?";
const isoDate = new RegExp(`^(\\d{4})[-/.](\\d{1,2})[-/.](\\d{1,2})${time}$`, "i");
const compact = /^(19|20)(\d{2})(\d{2})(\d{2})$/;
const threeNumbers = new RegExp(`^(\\d{1,2})([-/. ])\\s?(\\d{1,2})\\2\\s?(\\d{4}|\\d{2})${time}$`, "i");
const dayMonthName = new RegExp(`^(\\d{1,2})(?:st|nd|rd|th)?[-/. ]*([a-zä]{3,9})[-/., ]*(\\d{4}|\\d{2})${time}$`, "i");
const monthNameDay = new RegExp(`^([a-zä]{3,9})[-/. ]*(\\d{1,2})(?:st|nd|rd|th)?[-/., ]+(\\d{4}|\\d{2})${time}$`, "i");

/**
 * Takes a date cell apart without deciding the order of day and month. A time of day behind it is allowed and dropped.
 * Two-digit years: 00-69 are 2000-2069, 70-99 are 1970-1999 (POSIX `strptime` %y uses 69 as the border; here 69 is 2069
 * because shops of today write future calibration dates, not 1969).
 *
 * @returns null where the text is no date.
 */
export function dateParts(text: string): DateParts | null {
  const cell = text.trim();
  if (cell.length > 40) return null;
  const iso = isoDate.exec(cell);
  if (iso !== null) return own(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const packed = compact.exec(cell);
  if (packed !== null) return own(Number(`${packed[1]}${packed[2]}`), Number(packed[3]), Number(packed[4]));
  const named = dayMonthName.exec(cell);
  if (named !== null) return namedDate(named[2], named[1], named[3]);
  const american = monthNameDay.exec(cell);
  if (american !== null) return namedDate(american[1], american[2], american[3]);
  const plain = threeNumbers.exec(cell);
  if (plain === null) return null;
  return { kind: "column order", first: Number(plain[1]), second: Number(plain[3]), year: fullYear(plain[4] ?? "") };
}

const own = (year: number, month: number, day: number): DateParts => ({ kind: "own order", year, month, day });

function namedDate(name = "", day = "", year = ""): DateParts | null {
  const short = name.slice(0, 3).toLowerCase();
  const month = months.indexOf(short) + 1 || (Object.hasOwn(otherMonths, short) ? otherMonths[short] : 0) || 0;
  return month === 0 ? null : own(fullYear(year), month, Number(day));
}

function fullYear(year: string): number {
  if (year.length === 4) return Number(year);
  return Number(year) < 70 ? 2000 + Number(year) : 1900 + Number(year);
}

/**
 * A date cell as `YYYY-MM-DD`.
 *
 * @param order  Order of the column, for dates that do not name their own. "ymd" takes a cell such as "03.04.25" as
 *               year, month, day.
 * @returns      null where the text is no date; "impossible" where the calendar has no such day (31 April, month 25).
 */
export function parseDate(text: string, order: DateOrder): string | null | "impossible" {
  const parts = dateParts(text);
  if (parts === null) return null;
  if (parts.kind === "own order") return calendarDate(parts.year, parts.month, parts.day);
  if (order === "dmy") return calendarDate(parts.year, parts.second, parts.first);
  if (order === "mdy") return calendarDate(parts.year, parts.first, parts.second);
  return calendarDate(fullYear(String(parts.first).padStart(2, "0")), parts.second, parts.year % 100);
}

function calendarDate(year: number, month: number, day: number): string | "impossible" {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
  if (days === undefined || day < 1 || day > days || year < 1900 || year > 2199) return "impossible";
  return `${year}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}
