/**
 * Writes `web/charts/text/advanceWidths.ts` from the font files the product ships: how far each character moves the pen,
 * in thousandths of the font size. Run it after a change of the font: `npx tsx tests/web/charts/makeAdvanceWidths.ts`.
 *
 * Reads only the tables that say this: `head` (units), `hhea` and `hmtx` (advances), `cmap` format 4 (characters).
 * Source: OpenType specification 1.9, chapters of the same names. Kerning is left out; it makes text narrower, rarely wider.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const fonts = { regular: "SourceSans3-Regular.ttf", semibold: "SourceSans3-Semibold.ttf" } as const;
const extra = "–—‘’“”…•†‡‰‹›€−≤≥≈≠±×÷→←↑↓′″½¼¾²³°µ·∞√∑∆ŁłŚśŠšŽžČčŘřĐđŐőŰű";

/** Printable ASCII, Latin-1, Greek, and the signs that charts and sentences use. */
export const characters: readonly string[] = [
  ...range(0x20, 0x7e),
  ...range(0xa0, 0xff),
  ...range(0x391, 0x3a9),
  ...range(0x3b1, 0x3c9),
  ...extra,
].filter((character, index, all) => all.indexOf(character) === index);

function range(first: number, last: number): string[] {
  return Array.from({ length: last - first + 1 }, (_, index) => String.fromCodePoint(first + index));
}

/** Advance of each character in thousandths of the font size; characters the font lacks are left out. */
export function advancesOf(file: string): Record<string, number> {
  const bytes = readFileSync(new URL(`../../../node_modules/source-sans/TTF/${file}`, import.meta.url));
  const tables = new Map<string, number>();
  for (let index = 0; index < bytes.readUInt16BE(4); index++) {
    const at = 12 + 16 * index;
    tables.set(bytes.toString("latin1", at, at + 4), bytes.readUInt32BE(at + 8));
  }
  const offset = (name: string): number => {
    const at = tables.get(name);
    if (at === undefined) throw new Error(`${file}: no table ${name}`);
    return at;
  };
  const unitsPerEm = bytes.readUInt16BE(offset("head") + 18);
  const longMetrics = bytes.readUInt16BE(offset("hhea") + 34);
  const glyphOf = characterMap(bytes, offset("cmap"), file);
  const advances: Record<string, number> = {};
  for (const character of characters) {
    const glyph = glyphOf(character.codePointAt(0) ?? 0);
    if (glyph === 0) continue;
    const advance = bytes.readUInt16BE(offset("hmtx") + 4 * Math.min(glyph, longMetrics - 1));
    advances[character] = Math.round((1000 * advance) / unitsPerEm);
  }
  return advances;
}

function characterMap(bytes: Buffer, cmap: number, file: string): (code: number) => number {
  for (let index = 0; index < bytes.readUInt16BE(cmap + 2); index++) {
    const at = cmap + bytes.readUInt32BE(cmap + 8 + 8 * index);
    if (bytes.readUInt16BE(at) !== 4) continue;
    const segments = bytes.readUInt16BE(at + 6) / 2;
    const [ends, starts] = [at + 14, at + 16 + 2 * segments];
    const [deltas, offsets] = [starts + 2 * segments, starts + 4 * segments];
    return (code) => {
      for (let segment = 0; segment < segments; segment++) {
        if (code > bytes.readUInt16BE(ends + 2 * segment)) continue;
        const start = bytes.readUInt16BE(starts + 2 * segment);
        if (code < start) return 0;
        const delta = bytes.readUInt16BE(deltas + 2 * segment);
        const rangeOffset = bytes.readUInt16BE(offsets + 2 * segment);
        if (rangeOffset === 0) return (code + delta) & 0xffff;
        const glyph = bytes.readUInt16BE(offsets + 2 * segment + rangeOffset + 2 * (code - start));
        return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
      }
      return 0;
    };
  }
  throw new Error(`${file}: no character map of format 4`);
}

/** The text of the module that ships. */
export function advanceWidthsModule(): string {
  const lines = Object.entries(fonts).map(([weight, file]) => {
    const advances = advancesOf(file);
    const text = Object.keys(advances).join("");
    return [
      `  ${weight}: {`,
      `    characters: ${JSON.stringify(text)},`,
      `    advances: "${Object.values(advances).join(" ")}",`,
      "  },",
    ].join("\n");
  });
  return `${[
    "/**",
    " * How far each character of Source Sans 3 moves the pen, in thousandths of the font size: `advances[i]` belongs to",
    " * `characters[i]`. Generated from the shipped font files by tests/web/charts/makeAdvanceWidths.ts; not edited by hand.",
    " */",
    "export const advanceWidths = {",
    ...lines,
    "} as const;",
  ].join("\n")}\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(new URL("../../../web/charts/text/advanceWidths.ts", import.meta.url), advanceWidthsModule());
}
