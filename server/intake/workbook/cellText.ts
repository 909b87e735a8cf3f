/** How a cell of a style shows its number. */
export type NumberStyle =
  | "general"
  | "date"
  | "date and time"
  | "time"
  | "elapsed"
  | "percent"
  | { readonly digits: number };

/** Formats that have a number of their own and no text in the file (ECMA-376, Part 1, 18.8.30, numFmtId). */
const builtIn: Readonly<Record<number, NumberStyle>> = {
  9: "percent",
  10: "percent",
  ...Object.fromEntries([14, 15, 16, 17, 27, 28, 29, 30, 31, 36, 50, 51, 52, 53, 54, 57, 58].map((id) => [id, "date"])),
  ...Object.fromEntries([18, 19, 20, 21, 32, 33, 34, 35, 45, 47, 55, 56].map((id) => [id, "time"])),
  22: "date and time",
  46: "elapsed",
};

/** What kind of number a format shows: its code where the file gives one, else by its number. */
export function numberStyle(id: number, code: string | undefined): NumberStyle {
  if (code === undefined) return builtIn[id] ?? "general";
  const positive = code.split(";")[0] ?? "";
  if (/\[(?:h+|m+|s+)\]/i.test(positive)) return "elapsed";
  // Quoted text, escaped signs, fill signs, colours and locales say nothing of the kind of number.
  const signs = positive.replace(/"[^"]*"|\\.|[_*].|\[[^\]]*\]/g, "").toLowerCase();
  if (/^0{2,}$/.test(signs)) return { digits: signs.length };
  if (signs.includes("%")) return "percent";
  const withoutWords = signs.replace(/general|am\/pm|a\/p/g, "");
  const time = /[hs]/.test(withoutWords);
  const date = /[ydg]/.test(withoutWords) || (/m/.test(withoutWords) && !time) || /e{2,}/.test(withoutWords);
  if (date) return time ? "date and time" : "date";
  return time ? "time" : "general";
}

const dayMs = 86_400_000;
/** Days after which a date has five digits in its year. */
const lastDay = 2_958_465;

/**
 * A number as the sheet shows it. Dates as YYYY-MM-DD whatever their format, so that no order of day and month is in
 * doubt; times as hh:mm; elapsed time in hours with their unit; numbers to the fifteen digits that a spreadsheet keeps;
 * leading zeros of a format such as "00000" kept.
 *
 * Conventions  Serial 1 is 1 January 1900, and there is a 29 February 1900 (serial 60) that no calendar has; in the 1904
 *              system serial 0 is 1 January 1904. (ECMA-376, Part 1, 18.17.4.1)
 */
export function numberText(written: string, style: NumberStyle, from1904: boolean): string {
  const value = Number(written);
  if (written.trim() === "" || !Number.isFinite(value)) return written;
  if (typeof style === "object") {
    return Number.isInteger(value) && value >= 0 ? String(value).padStart(style.digits, "0") : plainNumber(value);
  }
  if (style === "general") return plainNumber(value);
  if (style === "percent") return `${plainNumber(value * 100)}%`;
  if (style === "elapsed") return `${plainNumber(Number((value * 24).toPrecision(12)))} h`;
  if (value < 0 || value > lastDay) return plainNumber(value);
  let day = Math.floor(value);
  let seconds = Math.round((value - day) * 86_400);
  if (seconds === 86_400) [day, seconds] = [day + 1, 0];
  const clock = clockText(seconds);
  if (style === "time" && day === 0) return clock;
  const date = dateText(day, from1904);
  return style === "date" || (seconds === 0 && style !== "time") ? date : `${date} ${clock}`;
}

function plainNumber(value: number): string {
  return String(Number(value.toPrecision(15)));
}

function clockText(seconds: number): string {
  const two = (count: number) => String(Math.floor(count)).padStart(2, "0");
  const text = `${two(seconds / 3_600)}:${two((seconds % 3_600) / 60)}`;
  return seconds % 60 === 0 ? text : `${text}:${two(seconds % 60)}`;
}

function dateText(day: number, from1904: boolean): string {
  if (!from1904 && day === 60) return "1900-02-29";
  const epoch = from1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, day < 60 ? 31 : 30);
  return new Date(epoch + day * dayMs).toISOString().slice(0, 10);
}
