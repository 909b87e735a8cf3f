/** A number read from a cell, with what stood behind it ("h", "ft-lbf", "" for nothing). */
export interface NumberInCell {
  readonly value: number;
  readonly rest: string;
}

const numberFirst = /^([-+−]?)(\d[\d.,' \u00a0\u2009\u202f]*|[.,]\d+)(e[-+]?\d{1,3})?(?![\d])/i;
const vulgar: Readonly<Record<string, number>> = {
  "¼": 0.25,
  "½": 0.5,
  "¾": 0.75,
  "⅛": 0.125,
  "⅜": 0.375,
  "⅝": 0.625,
  "⅞": 0.875,
};

/**
 * Reads the number a cell begins with. The sheet's decimal sign decides where both readings are possible ("1.234" is
 * 1234 in a sheet with decimal commas); where only one is possible, that one is taken whatever the sheet
 * ("62,5" cannot be a thousands group). Fractions as in nominal sizes are read: "6 1/2", "4-3/4", "8½".
 *
 * @returns  null where the cell does not begin with a number, or the digits are grouped in no known way.
 */
export function parseNumber(text: string, decimal: "." | ","): NumberInCell | null {
  const cell = text.trim();
  if (cell.length > 200) return null;
  const fraction = parseFraction(cell);
  if (fraction !== null) return fraction;
  const match = numberFirst.exec(cell);
  if (match === null) return null;
  const digits = (match[2] ?? "").replace(/[ \u00a0\u2009\u202f.,']+$/, "");
  const consumed = (match[1] ?? "").length + (match[3] === undefined ? digits.length : (match[2] ?? "").length);
  const plain = withDecimalPoint(digits, decimal);
  if (plain === null) return null;
  const sign = match[1] === "-" || match[1] === "−" ? -1 : 1;
  const value = sign * Number(plain + (match[3] ?? ""));
  if (!Number.isFinite(value)) return null;
  return { value: value === 0 ? 0 : value, rest: cell.slice(consumed + (match[3] ?? "").length).trim() };
}

function parseFraction(cell: string): NumberInCell | null {
  const sign = vulgar[cell.match(/^\d{0,3}[ -]?([¼½¾⅛⅜⅝⅞])/)?.[1] ?? ""];
  if (sign !== undefined) {
    const [whole, ...after] = cell.split(/[¼½¾⅛⅜⅝⅞]/);
    return { value: Number((whole ?? "").replace(/[ -]/g, "") || 0) + sign, rest: after.join("").trim() };
  }
  const match = /^(?:(\d{1,3})[ -]+)?(\d{1,2})\/(\d{1,2})(?![\d/.])/.exec(cell);
  if (match === null || Number(match[3]) === 0 || Number(match[2]) >= Number(match[3])) return null;
  return {
    value: Number(match[1] ?? 0) + Number(match[2]) / Number(match[3]),
    rest: cell.slice(match[0].length).trim(),
  };
}

function withDecimalPoint(digits: string, decimal: "." | ","): string | null {
  const text = digits.replace(/[ \u00a0\u2009\u202f]/g, "'");
  const other = decimal === "." ? "," : ".";
  const decimals = text.split(decimal).length - 1;
  const others = text.split(other).length - 1;
  if (decimals > 0 && others > 0) {
    const [last, first] = text.lastIndexOf(decimal) > text.lastIndexOf(other) ? [decimal, other] : [other, decimal];
    return text.split(last).length === 2 ? ungrouped(text, first, last) : null;
  }
  if (decimals === 1) return ungrouped(text, other, decimal);
  if (decimals > 1) return ungrouped(text, decimal, other);
  if (others === 1 && !isGrouped(text, other)) return ungrouped(text, decimal, other);
  return ungrouped(text, other, decimal);
}

/** Takes out thousands signs, refusing groups that are not three digits wide. */
function ungrouped(text: string, group: string, point: string): string | null {
  const [whole = "", ...parts] = text.split(point);
  if (parts.length > 1 || /[^\d]/.test(parts.join(""))) return null;
  if (/[^\d]/.test(whole) && !isGrouped(whole, group) && !isGrouped(whole, "'")) return null;
  const integer = whole.replace(/[^\d]/g, "");
  return parts.length === 0 ? integer : `${integer === "" ? "0" : integer}.${parts[0] === "" ? "0" : parts[0]}`;
}

function isGrouped(text: string, group: string): boolean {
  const [first = "", ...groups] = text.split(group);
  return /^\d{1,3}$/.test(first) && first !== "0" && groups.length > 0 && groups.every((part) => /^\d{3}$/.test(part));
}
