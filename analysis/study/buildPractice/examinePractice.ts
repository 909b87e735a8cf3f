import { bentMultiplier } from "../../practice/screen/bentMultiplier.ts";
import { imputedMultiplier } from "../../practice/screen/imputedMultiplier.ts";
import { companionColumns, whatElseDiffered } from "../../practice/screen/whatElseDiffered.ts";
import type { RegressionLaw } from "../../practice/types.ts";
import type { ShopData } from "../shopData.ts";
import type { StudyDefinition } from "../types.ts";
import { companionsOf, writtenValue } from "./companions.ts";
import { comparePractice } from "./comparePractice.ts";
import { hazardInPieces } from "./hazardInPieces.ts";
import type { ModeRow } from "./modeTable.ts";
import { practiceGroups } from "./practiceGroups.ts";
import type { Screen, ScreenedContrast } from "./screenPractices.ts";
import { settling } from "./settling.ts";
import { standsOutAt } from "./testPractices.ts";
import { trialPlan } from "./trialPlan.ts";
import type { OtherAnswer, PracticeDetail, PracticeLife } from "./types.ts";
import { whoDidWhat } from "./whoDidWhat.ts";

/** Lives drawn under the picture at most. */
const MOST_HISTORIES = 1_500;
/** Tools tried one by one: those with most failures. */
const TOOLS_TRIED = 6;

/**
 * One comparison looked at closely: is it straight, do models agree, what if one tool or crew were not there?
 *
 * @param screen  The one it is part of.
 */
export function examinePractice(
  one: ScreenedContrast,
  screen: Screen,
  data: ShopData,
  definition: StudyDefinition,
): PracticeDetail {
  const { table, contrast, compared, comparison } = one;
  const { practice, level, item, mode } = comparison;
  const otherModels = otherLaws(one, definition);
  const withoutOne = leaveOneOut(one, definition);
  return {
    choice: { practice, level, item, mode },
    curve: curveOf(one, definition),
    histories: contrast.applies.slice(0, MOST_HISTORIES).map((index) => lifeOf(table.rows[index]!, one)),
    groups: practiceGroups(table, contrast, data, definition),
    whoDidWhat: whoDidWhat(table, contrast),
    otherModels,
    modelsAgree: agree(comparison.adjusted?.value ?? null, [...otherModels, ...withoutOne]),
    withoutOne,
    imputed: imputed(one, definition),
    settling:
      definition.settle === undefined
        ? null
        : settling(
            table,
            contrast,
            compared,
            standsOutAt(screen, one.isClaim),
            screen.tables,
            definition.settle,
            definition.seed,
          ),
    plan: trialPlan(table, data, definition),
  };
}

function lifeOf({ life, lower, upper, facts }: ModeRow, { contrast: { practice } }: ScreenedContrast): PracticeLife {
  const value = writtenValue(practice, facts.practices[practice.id]);
  return {
    lifeId: life.id,
    serial: life.serial,
    item: life.item,
    kind: life.kind,
    at: typeof value === "number" ? value : null,
    name: typeof value === "string" ? value : null,
    lower,
    upper,
  };
}

function curveOf(
  { table, contrast, compared }: ScreenedContrast,
  { confidence }: StudyDefinition,
): PracticeDetail["curve"] {
  const fitter = contrast.practice.kind === "number" ? table.fitterOf(contrast.rows) : null;
  const { expected } = compared.entanglement;
  const { adjusted } = compared;
  if (!fitter || adjusted === null) return null;
  const fit = fitter([{ name: "practice", values: contrast.values }]);
  const inflation = fit ? Math.max(1, (fit.errorsByTool[0]! / fit.errors[0]!) ** 2) : 1;
  return bentMultiplier(fitter, contrast.values, contrast.against, expected ? [expected] : [], confidence, inflation);
}

function otherLaws({ table, contrast, compared }: ScreenedContrast, { confidence }: StudyDefinition): OtherAnswer[] {
  if (table.leadsTo !== null) return [];
  const lives = contrast.rows.length;
  const laws = (["lognormal", "loglogistic"] satisfies RegressionLaw[]).map((law): OtherAnswer => {
    const { adjusted, failures } = comparePractice(table, contrast, () => true, law);
    return { what: law, lives, failures, multiplier: adjusted?.at(confidence) ?? null };
  });
  const pieces = hazardInPieces(table, contrast, compared, confidence);
  return [
    ...laws,
    { what: "proportional hazards in pieces of age", lives, failures: compared.failures, multiplier: pieces },
  ];
}

/** Each technician, each customer and the tools with most failures left out in turn; by kind the two that move it most. */
function leaveOneOut({ table, contrast, compared }: ScreenedContrast, { confidence }: StudyDefinition): OtherAnswer[] {
  const rows = contrast.rows.map((row) => table.rows[row]!);
  const kinds: readonly {
    readonly what: string;
    readonly read: (row: ModeRow) => string | null;
    readonly most: number;
  }[] = [
    { what: "tool", read: ({ life }) => life.serial, most: TOOLS_TRIED },
    { what: "technician", read: ({ facts }) => facts.technician, most: 12 },
    { what: "customer", read: ({ customer }) => customer, most: 12 },
  ];
  const here = Math.log(compared.adjusted?.value ?? compared.unadjusted?.value ?? 1);
  return kinds.flatMap(({ what, read, most }) => {
    const failures = new Map<string, number>();
    for (const row of rows) {
      const name = read(row);
      if (name !== null) failures.set(name, (failures.get(name) ?? 0) + (row.failed ? 1 : 0));
    }
    const names = [...failures].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).slice(0, most);
    if (names.length < 2) return [];
    const answers = names.map(([name]) => {
      const without = comparePractice(table, contrast, (row) => read(row) !== name);
      const lives = rows.filter((row) => read(row) !== name).length;
      return {
        what: name.toLowerCase().startsWith(what.slice(0, 4)) ? name : `${what} ${name}`,
        lives,
        failures: without.failures,
        adjusted: without.adjusted,
      };
    });
    const moved = (value: number | undefined) =>
      value === undefined ? Number.POSITIVE_INFINITY : Math.abs(Math.log(value) - here);
    return answers
      .sort((a, b) => moved(b.adjusted?.value) - moved(a.adjusted?.value))
      .slice(0, 2)
      .map(({ adjusted, ...rest }): OtherAnswer => ({ ...rest, multiplier: adjusted?.at(confidence) ?? null }));
  });
}

/** All on one side of 1, and none lost. */
function agree(here: number | null, others: readonly OtherAnswer[]): boolean {
  return here !== null && others.every(({ multiplier }) => multiplier !== null && multiplier.value < 1 === here < 1);
}

function imputed({ table, contrast, comparison }: ScreenedContrast, { confidence, seed }: StudyDefinition) {
  const { practice, rows, values, applies, at, against } = contrast;
  if (practice.kind !== "number" || applies.length === rows.length || comparison.adjusted === null) return null;
  const fitter = table.fitterOf(applies);
  if (!fitter) return null;
  const known = new Map(rows.map((row, place) => [row, values[place]!]));
  const all = applies.map((row) => table.rows[row]!);
  const companions = companionsOf(practice, all);
  const weights = Float64Array.from(all, ({ expected }) => Math.max(expected, 1e-9));
  const outcome = [
    Float64Array.from(all, ({ failed }) => (failed ? 1 : 0)),
    Float64Array.from(all, ({ expected }) => expected),
  ];
  return imputedMultiplier({
    fitter,
    values: Float64Array.from(applies, (row) => known.get(row) ?? Number.NaN),
    predictors: [...companions.flatMap((one) => companionColumns(one.values)), ...outcome],
    held: (filled) => {
      const { expected } = whatElseDiffered(filled, companions, weights);
      return expected ? [expected] : [];
    },
    step: at - against,
    confidence,
    seed,
  });
}
