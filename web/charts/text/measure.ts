/** Width of text as the shipped font draws it, so that a picture laid out on a server fits in every browser. */
import { advanceWidths } from "./advanceWidths.ts";

export type Weight = keyof typeof advanceWidths;

const tables: Readonly<Record<Weight, ReadonlyMap<string, number>>> = {
  regular: tableOf("regular"),
  semibold: tableOf("semibold"),
};

function tableOf(weight: Weight): ReadonlyMap<string, number> {
  const advances = advanceWidths[weight].advances.split(" ").map(Number);
  return new Map([...advanceWidths[weight].characters].map((character, index) => [character, advances[index] ?? 1000]));
}

/** Width in px at a font size in px. A character the font lacks counts as wide as the size: rather too much room. */
export function textWidth(text: string, size: number, weight: Weight = "regular"): number {
  let thousandths = 0;
  for (const character of text) thousandths += tables[weight].get(character) ?? 1000;
  return (thousandths * size) / 1000;
}

/**
 * Lines no wider than `width` px, broken between words but not between a number and its unit or per cent sign; a word
 * wider than a line is broken inside.
 */
export function wrapText(text: string, width: number, size: number, weight: Weight = "regular"): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(betweenWords).flatMap((part) => pieces(part, width, size, weight))) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line !== "" && textWidth(longer, size, weight) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  return line === "" ? lines : [...lines, line];
}

const betweenWords = / (?!(?:%|h)(?![\p{L}\d]))/u;

function pieces(word: string, width: number, size: number, weight: Weight): string[] {
  const parts: string[] = [];
  let part = "";
  for (const character of word) {
    if (part !== "" && textWidth(part + character, size, weight) > width) {
      parts.push(part);
      part = "";
    }
    part += character;
  }
  return [...parts, part];
}

/** The text, or as much of it as fits with an ellipsis. The whole text belongs in the mark's label. */
export function shortened(text: string, width: number, size: number, weight: Weight = "regular"): string {
  if (textWidth(text, size, weight) <= width) return text;
  let kept = text;
  while (kept.length > 1 && textWidth(`${kept.trimEnd()}…`, size, weight) > width) kept = kept.slice(0, -1);
  return `${kept.trimEnd()}…`;
}
