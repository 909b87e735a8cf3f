/**
 * The known phrase most like an unknown one, by shared pairs of letters (Dice 1945, Ecology 26, 297-302: twice the
 * shared over the sum; here over letter pairs of the words), with whole shared words counting as well.
 *
 * @returns null where none reaches `least`. Ties go to the first known.
 */
export function nearestPhrase(phrase: string, known: Iterable<string>, least = 0.5): string | null {
  const pairs = letterPairs(phrase);
  let best: { readonly phrase: string; readonly likeness: number } | null = null;
  for (const candidate of known) {
    const others = letterPairs(candidate);
    const shared = [...pairs].filter((pair) => others.has(pair)).length;
    const dice = (2 * shared) / (pairs.size + others.size || 1);
    const likeness = Math.max(dice, sharedWord(phrase, candidate));
    if (likeness >= least && (best === null || likeness > best.likeness)) best = { phrase: candidate, likeness };
  }
  return best?.phrase ?? null;
}

function letterPairs(phrase: string): ReadonlySet<string> {
  const pairs = phrase
    .split(" ")
    .flatMap((word) => Array.from({ length: Math.max(1, word.length - 1) }, (_, i) => word.slice(i, i + 2)));
  return new Set(pairs);
}

/** 0.5 upward where every word of the shorter phrase, of four letters or more, stands in the longer one. */
function sharedWord(phrase: string, candidate: string): number {
  const [short, long] = [phrase, candidate].sort((a, b) => a.length - b.length).map((text) => text.split(" "));
  if (short === undefined || long === undefined) return 0;
  const told = short.filter((word) => word.length >= 4);
  if (told.length === 0 || !short.every((word) => long.includes(word))) return 0;
  return 0.5 + (0.4 * short.length) / long.length;
}
