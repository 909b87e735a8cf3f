import { formatExact } from "./formatNumber.ts";

/** "no failures", "1 failure", "63 failures". */
export function countOf(count: number, one: string, many = `${one}s`): string {
  if (count === 0) return `no ${many}`;
  return `${formatExact(count)} ${count === 1 ? one : many}`;
}

/** First letter large, the rest as it is. */
export function sentenceCase(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** "a", "a and b", "a, b and c". */
export function listOf(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}

/** Whether a name is the shop's code (J1, SG-250) and not a word: codes have no plural. */
export function isCode(name: string): boolean {
  return /\d/.test(name) || (/[A-Z]/.test(name) && name === name.toUpperCase());
}

/** "main seal" as "main seals"; "body" as "bodies"; "brush" as "brushes". */
export function pluralOf(name: string): string {
  if (/(?:[^aeiou]|qu)y$/i.test(name)) return `${name.slice(0, -1)}ies`;
  return /(?:s|x|z|ch|sh)$/i.test(name) ? `${name}es` : `${name}s`;
}
