import { AnalysisError } from "../errors.ts";

const longestPattern = 200;
const longestSubject = 120;
const mostUnbounded = 3;
const mostOptional = 8;

/**
 * Compiles a regular expression out of a mapping so that it cannot hang: a mapping is data that may come from anyone.
 * Refused are patterns that backtrack exponentially or at high degree: a quantifier on a group that itself holds a
 * quantifier or alternatives, back references, look-around, more than three quantifiers of varying length, more than eight optional parts, over 200 characters.
 *
 * Errors  "bad-mapping" with the pattern and why.
 */
export function safePattern(pattern: string): RegExp {
  const why = whyRefused(pattern);
  if (why !== null) throw new AnalysisError("bad-mapping", { pattern: pattern.slice(0, longestPattern), why });
  try {
    return new RegExp(pattern, "i");
  } catch {
    throw new AnalysisError("bad-mapping", { pattern, why: "not a regular expression" });
  }
}

/** Group 1 of the pattern in a cell, null where it does not match. Cells over 120 characters never match. */
export function caughtBy(pattern: RegExp, cell: string): string | null {
  if (cell.length > longestSubject) return null;
  return pattern.exec(cell)?.[1] ?? null;
}

function whyRefused(pattern: string): string | null {
  if (pattern.length > longestPattern) return "longer than 200 characters";
  /** One entry an open group: whether a quantifier or a bar was seen inside it. */
  const groups: boolean[] = [];
  let closed: boolean | null = null;
  let unbounded = 0;
  let optional = 0;
  for (let i = 0; i < pattern.length; i++) {
    const sign = pattern[i];
    const before: boolean | null = closed;
    closed = null;
    if (sign === "\\") {
      if (/[1-9k]/.test(pattern[i + 1] ?? "")) return "back reference";
      i++;
    } else if (sign === "[") {
      i = endOfClass(pattern, i);
    } else if (sign === "(") {
      if (/^\(\?(?!:)/.test(pattern.slice(i, i + 3))) return "look-around or named group";
      if (pattern.startsWith("(?:", i)) i += 2;
      groups.push(false);
    } else if (sign === ")") {
      closed = groups.pop() ?? false;
      if (closed && groups.length > 0) groups[groups.length - 1] = true;
    } else if (sign === "|") {
      if (groups.length > 0) groups[groups.length - 1] = true;
    } else if (sign === "*" || sign === "+" || sign === "?" || sign === "{") {
      const repeat = sign === "{" ? /^\{\d{1,2}(?:,(\d?))?\}/.exec(pattern.slice(i)) : null;
      if (sign === "{" && repeat === null) return "a repeat of 100 or more";
      if (before === true && sign !== "?") return "nested quantifiers";
      if (sign === "?") optional++;
      else if (repeat === null || repeat[1] !== undefined) unbounded++;
      if (repeat !== null) i += repeat[0].length - 1;
      if (groups.length > 0) groups[groups.length - 1] = true;
      if (unbounded > mostUnbounded) return "more than three repeats";
      if (optional > mostOptional) return "more than eight optional parts";
    }
  }
  return null;
}

function endOfClass(pattern: string, from: number): number {
  for (let i = from + 1; i < pattern.length; i++) {
    if (pattern[i] === "\\") i++;
    else if (pattern[i] === "]") return i;
  }
  return pattern.length;
}
