import { normalisePhrase } from "./normalisePhrase.ts";

/**
 * The name under which an item is kept where the word list does not name it: joints as "J1", everything else in lower
 * case with single spaces. So "Joint 1", "Jt. 1" and "j1" are one item, and "Main Seal" and "main  seal" are one.
 */
export function canonicalItem(phrase: string): string {
  const normal = normalisePhrase(phrase);
  const joint = /^(?:j|jt|jnt|joint|conn|connection)\s?(\d{1,2})$/.exec(normal);
  return joint === null ? normal : `J${Number(joint[1])}`;
}
