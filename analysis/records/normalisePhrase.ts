/**
 * The form in which the shop's phrases are compared: compatibility characters unified (NFKC), lower case, punctuation
 * that shops use at will (hyphen, slash, underscore, full stop, quotes) read as a space, runs of spaces as one.
 *
 * Example: `normalisePhrase("  Back-Off ")` is `"back off"`.
 */
export function normalisePhrase(phrase: string): string {
  return phrase
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[-‐-―_/\\.,;:'"`´’‘“”()[\]]+/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}
