// Stored figures: today's pictures as text, coordinates rounded to two decimals, kept to notice change; reviewed as pictures.
// A changed picture is written beside the old one as `-changed`; rename it over the old one to accept it.
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { darkTheme, lightTheme } from "../../../web/charts/theme.ts";
import { toSvgText } from "../../../web/charts/toSvgText.ts";
import { cases } from "./cases.tsx";

const stored = [
  ["survival-evident", "light", 800],
  ["survival-few", "dark", 800],
  ["survival-few", "light", 320],
  ["probability-evident", "light", 800],
  ["histories-few", "light", 640],
  ["rates-fleet", "light", 800],
  ["rates-fleet", "dark", 320],
  ["over-time-chosen-fleet", "light", 800],
  ["drawing-fleet", "light", 1000],
  ["drawing-small", "dark", 320],
  ["shape-belief", "light", 640],
  ["joint-regions", "dark", 480],
  ["comparisons", "light", 800],
  ["comparisons", "dark", 320],
  ["tool-history", "light", 1000],
  ["practice-shop", "light", 1000],
  ["practice-shop", "dark", 320],
  ["life-against-shop", "light", 640],
  ["practice-survival-shop", "light", 640],
] as const;

test.each(stored)("%s, %s, %i px is drawn as it was", (name, themeName, width) => {
  const one = cases.find((candidate) => candidate.name === name);
  if (!one) throw new Error(`No case is called ${name}`);
  const svg = `${toSvgText(one.draw(themeName === "dark" ? darkTheme : lightTheme, width)).replaceAll("><", ">\n<")}\n`;
  const path = (suffix: string): string =>
    fileURLToPath(new URL(`./figures/${name}-${themeName}-${width}${suffix}.svg`, import.meta.url));
  const changed = path("-changed");
  if (existsSync(path("")) && readFileSync(path(""), "utf8") === svg) {
    rmSync(changed, { force: true });
    return;
  }
  writeFileSync(changed, svg);
  expect.fail(`${name} is drawn otherwise than stored: compare with ${changed}`);
});
