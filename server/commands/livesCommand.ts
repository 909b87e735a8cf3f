import { mkdir, readFile, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import {
  fitWeibull,
  formatConfidence,
  formatNumber,
  type LifeSample,
  lifeSample,
  type Maximum,
  readLivesSheet,
  sayLivesSheetProblem,
  type WeibullFound,
  type WeibullQuantity,
  weibullBounds,
} from "../../analysis/index.ts";
import { readSheet } from "../intake/readSheet.ts";
import { toCsv } from "../routes/csv.ts";
import { type Command, readOptions, UsageError } from "./command.ts";

interface Reading {
  readonly name: string;
  readonly value: number;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly unit: string;
}

/** `lives SHEET`: a list of lives, fitted as it is; nothing is stored. */
export const livesCommand: Command = {
  name: "lives",
  usage: "lives SHEET [--confidence 0.9] [--out FOLDER]",
  about:
    "Fits a Weibull law to a sheet that lists lives (how old, how it ended, how many), with likelihood-ratio bounds. Lines that cannot be read are listed and left out.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, { confidence: { type: "string" }, out: { type: "string" } });
    const [path, ...more] = positionals;
    if (path === undefined || more.length > 0) throw new UsageError("lives takes one sheet.");
    const confidence = Number(values.confidence ?? "0.9");
    if (!(confidence > 0 && confidence < 1))
      throw new UsageError(`--confidence takes a number above 0 and below 1; it was "${values.confidence}".`);

    const sheet = readLivesSheet(readSheet(new Uint8Array(await readFile(path)), basename(path)));
    for (const problem of sheet.problems) terminal.err(sayLivesSheetProblem(problem));
    if (sheet.setAside.length > 0) terminal.err(`${sheet.setAside.length} lines were left out.`);
    const unit = sheet.unit ?? "the sheet's unit";
    const sample = lifeSample({ unit, lives: sheet.lives });
    const fit = fitWeibull(sample);
    const { lives, failures, exact, interval, left, right, leftTruncated } = fit.counts;
    terminal.out(
      `${basename(path)}: ${formatNumber(lives, 9)} lives, ${formatNumber(failures, 9)} failures (${exact} at a known age, ${interval} between two looks, ${left} before the first look), ${right} still good${leftTruncated > 0 ? `, ${leftTruncated} followed from a later age` : ""}. Ages in ${unit}.`,
    );
    if (fit.maximum !== "found") {
      terminal.err(`No Weibull law can be fitted: ${noMaximum[fit.maximum]}`);
      return 1;
    }
    const readings = readingsOf(fit, sample, confidence);
    for (const { name, value, lower, upper, unit } of readings)
      terminal.out(
        `  ${name}: ${formatNumber(value)}${unit === "" ? "" : ` ${unit}`} (${bound(lower)} to ${bound(upper)}, ${formatConfidence(confidence)})`,
      );
    if (values.out !== undefined) {
      const name = basename(path).replace(/\.[^.]*$/, "");
      for (const file of await writeFit(values.out, name, { fit, readings, confidence })) terminal.out(`Wrote ${file}`);
    }
    return 0;
  },
};

const noMaximum: Readonly<Record<Exclude<Maximum, "found">, string>> = {
  "no failures": "none of these lives has failed.",
  "shape not bounded above": "one single age agrees with every life. More failures at different ages would tell.",
  "scale not bounded":
    "these lives do not tell how long such an item lasts. More failures at different ages would tell.",
  "not converged": "the search for the best law did not settle. Check the sheet for lives that contradict each other.",
};

const bound = (value: number | null): string => (value === null ? "unbounded" : formatNumber(value));

function readingsOf(fit: WeibullFound, sample: LifeSample, confidence: number): readonly Reading[] {
  const asked: readonly (readonly [string, WeibullQuantity, string])[] = [
    ["shape", { kind: "shape" }, ""],
    ["scale", { kind: "scale" }, fit.unit],
    ["one in ten has failed by", { kind: "quantile", failedFraction: 0.1 }, fit.unit],
    ["median", { kind: "quantile", failedFraction: 0.5 }, fit.unit],
    ["mean", { kind: "mean" }, fit.unit],
  ];
  return asked.map(([name, quantity, unit]) => {
    const { value, lower, upper } = weibullBounds(fit, sample, quantity, confidence);
    return { name, value, lower, upper, unit };
  });
}

interface FitFiles {
  readonly fit: WeibullFound;
  readonly readings: readonly Reading[];
  readonly confidence: number;
}

async function writeFit(folder: string, name: string, { fit, readings, confidence }: FitFiles): Promise<string[]> {
  await mkdir(folder, { recursive: true });
  const rows = readings.map((each) => [each.name, each.value, each.lower, each.upper, confidence, each.unit]);
  const texts = [
    [`${name}.json`, `${JSON.stringify({ fit, confidence, readings }, null, 2)}\n`],
    [`${name}.csv`, toCsv(["number", "value", "lower", "upper", "confidence", "unit"], rows)],
  ] as const;
  return Promise.all(
    texts.map(async ([file, text]) => {
      await writeFile(join(folder, file), text);
      return join(folder, file);
    }),
  );
}
