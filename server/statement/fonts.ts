import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

const folder = dirname(createRequire(import.meta.url).resolve("source-sans/package.json"));
const files = { 400: "Regular", 600: "Semibold" } as const;

/** The typeface as TrueType files, which paper and pictures need. */
export const fontFiles = {
  regular: join(folder, "TTF", "SourceSans3-Regular.ttf"),
  semibold: join(folder, "TTF", "SourceSans3-Semibold.ttf"),
} as const;

/** Style rules that carry the typeface with them, for a page that fetches nothing. */
export async function fontFaces(): Promise<string> {
  const rules = await Promise.all(
    Object.entries(files).map(async ([weight, name]) => {
      const bytes = await readFile(join(folder, "WOFF2", "TTF", `SourceSans3-${name}.ttf.woff2`));
      return `@font-face{font-family:"Source Sans 3";font-weight:${weight};src:url(data:font/woff2;base64,${bytes.toString("base64")}) format("woff2")}`;
    }),
  );
  return rules.join("");
}
