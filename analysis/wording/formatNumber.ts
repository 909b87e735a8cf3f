/**
 * A number as a person reads it: three significant digits, thousands comma, true minus, no trailing zeros.
 *
 * Conventions  Just below 1 as many digits as show that it is below 1 (0.9996, not 1). Whole numbers of four and more
 *              digits are rounded as well: for a count or a stored cell use `formatExact`. Very small and very large
 *              numbers are written with a power of ten. NaN is "undefined", Infinity "unbounded".
 * Example      formatNumber(1234.5) is "1,230"; formatNumber(-0.04567) is "−0.0457"
 */
export function formatNumber(value: number, digits = 3): string {
  if (Number.isNaN(value)) return "undefined";
  if (!Number.isFinite(value)) return "unbounded";
  const size = Math.abs(value);
  const sign = value < 0 && size > 0 ? "−" : "";
  if (size === 0) return "0";
  if (size >= 1e9 || size < 1e-6) return sign + powerOfTen(size, digits);
  if (size < 1 && size > 0.99) return sign + belowOne(size, digits);
  return sign + grouped(plain(size, digits));
}

/** Every digit of a number, as for a count or a stored cell: 13,558 or 62.25. */
export function formatExact(value: number): string {
  if (!Number.isFinite(value)) return formatNumber(value);
  const text = String(Math.abs(value));
  return (value < 0 ? "−" : "") + (text.includes("e") ? text : grouped(text));
}

function plain(size: number, digits: number): string {
  const rounded = Number(size.toPrecision(digits));
  return rounded
    .toFixed(Math.max(0, Math.min(100, digits - 1 - Math.floor(Math.log10(rounded)))))
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");
}

/** Digits counted from the distance to 1. */
function belowOne(size: number, digits: number): string {
  const places = Math.max(digits, Math.ceil(-Math.log10(1 - size)));
  return size.toFixed(Math.min(places, 15)).replace(/0+$/, "").replace(/\.$/, "");
}

function powerOfTen(size: number, digits: number): string {
  const [mantissa = "", exponent = ""] = size.toExponential(digits - 1).split("e");
  const raised = [...String(Number(exponent))].map((sign) => superscript[sign] ?? sign).join("");
  return `${mantissa.replace(/(\.\d*?)0+$/, "$1").replace(/\.$/, "")} × 10${raised}`;
}

const superscript: Readonly<Record<string, string>> = {
  "-": "⁻",
  "0": "⁰",
  "1": "¹",
  "2": "²",
  "3": "³",
  "4": "⁴",
  "5": "⁵",
  "6": "⁶",
  "7": "⁷",
  "8": "⁸",
  "9": "⁹",
};

function grouped(text: string): string {
  const [whole = "", part] = text.split(".");
  const withCommas = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  return part === undefined ? withCommas : `${withCommas}.${part}`;
}
