/**
 * How well the words of a header match a usual term: 3 for the very words in order, 2.8 for the same words in another
 * order, else 2 times the share of the header that the term covers, where all words of the term occur. 0: no match.
 */
export function matchTerm(words: readonly string[], term: string): number {
  const told = term.split(" ");
  if (words.length === 0) return 0;
  if (words.join(" ") === term) return 3;
  if (!told.every((word) => words.includes(word))) return 0;
  if (told.length === words.length) return 2.8;
  const share = (2 * told.length) / words.length;
  return share < 0.9 ? 0 : share;
}

/** The best match among several terms. */
export const matchTerms = (words: readonly string[], terms: readonly string[]): number =>
  Math.max(0, ...terms.map((term) => matchTerm(words, term)));

/**
 * The words left of a header when one of the terms is taken off its beginning or end: "main seal lot" without "lot" is
 * "main seal". The longest term that fits is taken. null where none fits or nothing is left.
 */
export function withoutTerm(words: readonly string[], terms: readonly string[]): readonly string[] | null {
  const text = words.join(" ");
  const fitting = terms
    .filter((term) => text !== term && (text.startsWith(`${term} `) || text.endsWith(` ${term}`)))
    .sort((a, b) => b.length - a.length);
  const [term] = fitting;
  if (term === undefined) return null;
  const rest = text.endsWith(` ${term}`) ? text.slice(0, -term.length) : text.slice(term.length);
  return rest.trim().split(" ");
}
