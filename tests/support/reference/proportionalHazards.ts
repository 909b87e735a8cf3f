import { z } from "zod";
import { baselineHazard } from "../../../analysis/practice/hazards/baselineHazard.ts";
import type { TimeScale } from "../../../analysis/practice/hazards/failureScores.ts";
import { fitProportionalHazards } from "../../../analysis/practice/hazards/fitProportionalHazards.ts";
import { hazardConcordance } from "../../../analysis/practice/hazards/hazardConcordance.ts";
import { hazardResiduals } from "../../../analysis/practice/hazards/hazardResiduals.ts";
import { hazardRows } from "../../../analysis/practice/hazards/hazardRows.ts";
import { proportionalHazardsBounds } from "../../../analysis/practice/hazards/proportionalHazardsBounds.ts";
import { proportionalityTest } from "../../../analysis/practice/hazards/proportionalityTest.ts";
import type {
  HazardRows,
  JointTest,
  ProportionalHazardsFound,
  ProportionalHazardsInput,
} from "../../../analysis/practice/types.ts";
import {
  caseName,
  designOfCase,
  numberColumn,
  planOfCase,
  type RegressionData,
  readFormula,
  regressionRowsSchema,
  reorder,
  wordColumn,
} from "./regressionData.ts";
import type { Comparer, Comparers, Report, Value } from "./types.ts";

const numbers = z.array(z.number());
const matrix = z.array(numbers);
const ties = z.enum(["efron", "breslow"]);
const test = z.strictObject({ chiSquare: z.number(), df: z.number(), p: z.number() });
const proportionality = z.strictObject({ terms: z.array(z.string()), chiSquare: numbers, df: numbers, p: numbers });
const fitExpected = z.strictObject({
  coefficients: z.record(z.string(), z.number()),
  se: numbers,
  covariance: matrix,
  logLikNull: z.number(),
  logLik: z.number(),
  likelihoodRatio: test,
  wald: test,
  score: test,
  concordance: z.strictObject({ c: z.number(), se: z.number() }),
  n: z.number(),
  events: z.number(),
  robustSe: numbers.optional(),
  robustCovariance: matrix.optional(),
  robustWald: z.number().optional(),
  robustScore: z.number().optional(),
  proportionalHazardsTest: z.strictObject({
    km: proportionality,
    identity: proportionality,
    rank: proportionality,
    log: proportionality,
  }),
  residuals: z
    .strictObject({ martingale: numbers, deviance: numbers, schoenfeld: matrix, scaledSchoenfeld: matrix })
    .optional(),
  baselineCumulativeHazard: z.strictObject({ time: numbers, hazard: numbers, stratum: z.array(z.string()).optional() }),
});
const data = z.object({
  rows: regressionRowsSchema,
  model: z.string(),
  cluster: z.array(z.string()).nullable(),
});
const expectedSchema = z.strictObject({ fits: z.record(ties, fitExpected) });
const scales: Readonly<Record<"km" | "identity" | "rank" | "log", TimeScale>> = {
  km: "product-limit",
  identity: "age",
  rank: "rank",
  log: "log age",
};

const compareHazards: Comparer = (one, report) => {
  const { rows, model, cluster } = data.parse(one.data);
  const { fits } = expectedSchema.parse(one.expected);
  const { response, terms, stratum } = readFormula(model);
  const follow = rowsOf(rows, response);
  for (const [name, expected] of Object.entries(fits)) {
    const wanted = Object.keys(expected.coefficients);
    const input: ProportionalHazardsInput = {
      rows: follow,
      design: designOfCase(rows, terms, planOfCase(rows, terms, wanted)),
      ties: ties.parse(name),
      ...(stratum === null ? {} : { strata: wordColumn(rows, stratum) }),
      ...(cluster === null ? {} : { clusters: cluster }),
    };
    const fit = found(input);
    const names = fit.names.map(caseName);
    const order = wanted.map((word) => names.indexOf(word));
    const inOrder = (values: readonly number[]): number[] => order.map((j) => values[j] ?? Number.NaN);
    const say = (what: string): string => `${name}: ${what}`;
    report.compare(say("coefficients"), byName(names, fit.coefficients), expected.coefficients);
    const covariance = reorder(names, fit.covariance.matrix, wanted);
    report.compare(say("covariance"), covariance, expected.covariance);
    report.compare(
      say("se"),
      covariance.map((row, j) => Math.sqrt(row[j] ?? Number.NaN)),
      expected.se,
    );
    report.compare(say("logLikNull"), fit.nullLogLikelihood, expected.logLikNull);
    report.compare(say("logLik"), fit.logLikelihood, expected.logLik);
    report.compare(say("likelihood ratio"), testOf(fit.likelihoodRatio), expected.likelihoodRatio);
    report.compare(say("wald"), testOf(fit.wald), expected.wald);
    report.compare(say("score"), testOf(fit.score), expected.score);
    report.compare(say("n"), fit.rows, expected.n);
    report.compare(say("events"), fit.failures, expected.events);
    if (expected.robustCovariance && expected.robustSe) {
      const robust = reorder(names, fit.robustCovariance?.matrix ?? [], wanted);
      report.compare(say("robust covariance"), robust, expected.robustCovariance);
      report.compare(
        say("robust se"),
        robust.map((row, j) => Math.sqrt(row[j] ?? Number.NaN)),
        expected.robustSe,
      );
      report.compare(say("robust wald"), fit.robustWald?.chiSquare, expected.robustWald ?? null);
      report.compare(say("robust score"), fit.robustScore?.chiSquare, expected.robustScore ?? null);
    }
    const concordance = hazardConcordance(fit, input);
    report.compare(say("concordance"), { c: concordance.value, se: concordance.standardError }, expected.concordance);
    for (const scale of ["km", "identity", "rank", "log"] as const) {
      compareProportionality(
        fit,
        input,
        scale,
        expected.proportionalHazardsTest[scale],
        say(`proportionality, ${scale}`),
        report,
      );
    }
    if (expected.residuals) {
      const residuals = hazardResiduals(fit, input);
      report.compare(
        say("residuals"),
        {
          martingale: residuals.martingale,
          deviance: residuals.deviance,
          schoenfeld: residuals.schoenfeld.map(({ residual }) => inOrder(residual)),
          scaledSchoenfeld: residuals.schoenfeld.map(({ scaled }) => inOrder(scaled)),
        },
        expected.residuals,
      );
    }
    const { time, hazard, stratum: of } = expected.baselineCumulativeHazard;
    const curves = baselineHazard(fit, input);
    const at = (age: number, name: string): number =>
      curves
        .find((curve) => curve.stratum === name)
        ?.steps.filter((step) => step.age <= age)
        .at(-1)?.cumulativeHazard ?? 0;
    report.compare(
      say("baseline hazard"),
      time.map((age, i) => at(age, of?.[i] ?? "")),
      hazard,
    );
    comparePublished(one.publishedValues, name, fit.coefficients, report);
  }
};

function comparePublished(
  published: readonly Readonly<Record<string, unknown>>[] | null,
  name: string,
  coefficients: readonly number[],
  report: Report,
): void {
  for (const { what, values } of published ?? []) {
    const printed = /^coefficient: Breslow ([\d.]+), Efron ([\d.]+)$/.exec(String(what));
    if (printed) {
      const value = Number(printed[name === "breslow" ? 1 : 2]);
      report.compare(`published ${String(what)}`, coefficients[0], value, { absolute: 0.0005 });
    } else if (name === "efron") {
      // From memory, as the file says: -0.1464 stands for -0.14635, which prints as -0.1463.
      numbers.parse(values).forEach((value, j) => {
        const unit = value === -0.1464 ? 0.0001 : 0.00005;
        report.compare(`published ${String(what)}`, coefficients[j], value, { absolute: unit });
      });
    }
  }
}

function compareProportionality(
  fit: ProportionalHazardsFound,
  input: ProportionalHazardsInput,
  scale: "km" | "identity" | "rank" | "log",
  expected: z.infer<typeof proportionality>,
  what: string,
  report: Report,
): void {
  const { terms, overall } = proportionalityTest(fit, input, { scale: scales[scale] });
  const all = [...terms, { name: "GLOBAL", test: overall }];
  report.compare(
    what,
    {
      terms: all.map((term) => term.name),
      chiSquare: all.map((term) => term.test?.chiSquare ?? null),
      df: all.map((term) => term.test?.degreesOfFreedom ?? null),
      p: all.map((term) => term.test?.pValue ?? null),
    },
    expected,
  );
}

const byName = (names: readonly string[], values: readonly number[]): Value =>
  Object.fromEntries(names.map((name, j) => [name, values[j] ?? null]));

const testOf = (one: JointTest | null): Value =>
  one ? { chiSquare: one.chiSquare, df: one.degreesOfFreedom, p: one.pValue } : null;

function found(input: ProportionalHazardsInput): ProportionalHazardsFound {
  const fit = fitProportionalHazards(input);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  return fit;
}

function rowsOf(rows: RegressionData, response: readonly string[]): HazardRows {
  const [status, stop, start] = [...response].reverse().map((name) => numberColumn(rows, name));
  return hazardRows(
    "as published",
    (stop ?? []).map((age, i) => ({ start: start?.[i] ?? 0, stop: age, failed: status?.[i] === 1 })),
  );
}

const penalisedExpected = z.strictObject({
  fits: z.record(
    ties,
    z.strictObject({
      coefficients: z.record(z.string(), z.number()),
      seFromInformation: numbers,
      penalisedLogLik: z.number(),
      penalisedLogLikNull: z.number(),
      logPartialLik: z.number(),
      profilePenalisedCI95: z.record(z.string(), z.object({ lower: z.number(), upper: z.number() })),
      penalisedLrChiSquare: z.number(),
      maxAbsScore: z.number(),
    }),
  ),
  ordinaryCoefficientsDiverge: z.boolean(),
});

const comparePenalised: Comparer = (one, report) => {
  const { rows, covariates } = z
    .object({ rows: regressionRowsSchema, covariates: z.array(z.string()) })
    .parse(one.data);
  const expected = penalisedExpected.parse(one.expected);
  for (const [name, values] of Object.entries(expected.fits)) {
    const plain: ProportionalHazardsInput = {
      rows: rowsOf(rows, ["time", "status"]),
      design: designOfCase(rows, covariates, planOfCase(rows, covariates, covariates)),
      ties: ties.parse(name),
    };
    const input = { ...plain, penalty: "bias-reducing" } as const;
    const fit = found(input);
    const bounds = proportionalHazardsBounds(fit, input, { confidence: 0.95 });
    const say = (what: string): string => `${name}: ${what}`;
    report.compare(say("coefficients"), byName(fit.names, fit.coefficients), values.coefficients);
    report.compare(
      say("se"),
      fit.covariance.matrix.map((row, j) => Math.sqrt(row[j] ?? Number.NaN)),
      values.seFromInformation,
    );
    report.compare(say("penalisedLogLik"), fit.penalisedLogLikelihood, values.penalisedLogLik);
    report.compare(say("penalisedLogLikNull"), fit.nullPenalisedLogLikelihood, values.penalisedLogLikNull);
    report.compare(say("logPartialLik"), fit.logLikelihood, values.logPartialLik);
    report.compare(say("likelihood ratio"), fit.likelihoodRatio.chiSquare, values.penalisedLrChiSquare);
    report.compare(
      say("profile bounds"),
      Object.fromEntries(bounds.map(({ name, lower, upper }) => [name, { lower, upper }])),
      values.profilePenalisedCI95,
    );
    report.compare(
      say("ordinary coefficients diverge"),
      fitProportionalHazards(plain).maximum === "separated",
      expected.ordinaryCoefficientsDiverge,
    );
    report.notCovered("maxAbsScore", 1);
  }
};

/** Proportional hazards, plain and penalised. */
export const proportionalHazardsComparers: Comparers = {
  "proportional-hazards": compareHazards,
  "penalised-proportional-hazards": comparePenalised,
};
