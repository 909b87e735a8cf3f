import { z } from "zod";
import { ageReplacement } from "../../../analysis/decisions/ageReplacement.ts";
import { countOfFailures } from "../../../analysis/decisions/countOfFailures.ts";
import { minimalRepair } from "../../../analysis/decisions/minimalRepair.ts";
import { type LifeLaw, lifeLaw } from "../../../analysis/distributions/lifeLaw.ts";
import { weibull } from "../../../analysis/distributions/weibull.ts";
import {
  exactSuccessRun,
  successRunBound,
  successRunSize,
} from "../../../analysis/estimation/demonstration/successRun.ts";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { normalQuantile } from "../../../analysis/numerics/index.ts";
import type { Comparer, Comparers, Value } from "./types.ts";

const numbers = z.array(z.number());

const conditionalData = z.discriminatedUnion("distribution", [
  z.object({
    distribution: z.literal("weibull"),
    shape: z.number(),
    scale: z.number(),
    ages: numbers,
    further: numbers,
  }),
  z.object({
    distribution: z.literal("lognormal"),
    mu: z.number(),
    sigma: z.number(),
    ages: numbers,
    further: numbers,
  }),
]);
const conditionalExpected = z
  .object({ sd: z.number(), bLives: z.object({ p: numbers, t: numbers }).optional() })
  .catchall(z.custom<Value>());

const compareConditional: Comparer = (one, report) => {
  const data = conditionalData.parse(one.data);
  const { sd, bLives, ...columns } = conditionalExpected.parse(one.expected);
  const law = lawOf(data);
  const { ages, further } = data;
  const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);
  const computed: Readonly<Record<string, Value>> = {
    mttf: law.mean,
    reliability: ages.map(law.survival),
    hazard: ages.map((age) => finite(law.hazard(age))),
    cumulativeHazard: ages.map(law.cumulativeHazard),
    conditionalReliability: ages.map((age) => further.map((more) => law.conditionalSurvival(age, more))),
    meanResidualLife: ages.map((age) => law.meanResidualLife(age)),
    medianResidualLife: ages.map((age) => law.survivalQuantile(0.5 * law.survival(age)) - age),
  };
  for (const [name, values] of Object.entries(columns)) report.compare(name, computed[name], values);
  if (bLives) report.compare("B lives", bLives.p.map(law.quantile), bLives.t);
  if (data.distribution === "weibull") report.compare("sd", Math.sqrt(weibull(data).variance), sd);
  else report.notCovered("standard deviation of a lognormal law", 1);
};

function lawOf(data: z.infer<typeof conditionalData>): LifeLaw {
  return data.distribution === "weibull"
    ? lifeLaw("weibull", { shape: data.shape, scale: data.scale })
    : lifeLaw("lognormal", { mu: data.mu, sigma: data.sigma });
}

const fixedShapeData = z.object({ time: numbers, status: numbers, shape: z.number(), confidence: numbers });
const fixedShapeExpected = z.strictObject({
  failures: z.number(),
  sumPowers: z.number(),
  etaMle: z.number().nullable(),
  etaLowerTimeCensored: numbers,
  etaLowerFailureCensored: numbers.nullable(),
  etaUpperTimeCensored: numbers.nullable(),
  etaLowerOneFailureAssumed: z.number(),
  b10LowerTimeCensored: numbers,
});

const compareFixedShape: Comparer = (one, report) => {
  const { time, status, shape, confidence } = fixedShapeData.parse(one.data);
  const expected = fixedShapeExpected.parse(one.expected);
  const lives = time.map((at, i) => ({ lower: at, upper: status[i] === 1 ? at : null }));
  const fit = fixedShapeWeibull(lifeSample({ unit: "as published", lives }), shape);
  const scaleAt = (level: number) => fixedShapeBounds(fit, { kind: "scale" }, level);
  const orNull = (values: readonly (number | null)[]): Value =>
    values.every((value) => value === null) ? null : values;
  report.compare("failures", fit.failures, expected.failures);
  report.compare("sum of powers", fit.sumOfPowers, expected.sumPowers);
  report.compare("scale", fit.scale, expected.etaMle);
  report.compare(
    "scale, lower",
    confidence.map((level) => scaleAt(level).lower),
    expected.etaLowerTimeCensored,
  );
  report.compare(
    "scale, upper",
    orNull(confidence.map((level) => scaleAt(level).upper)),
    expected.etaUpperTimeCensored,
  );
  // A test ended by its r-th failure has 2r degrees of freedom at both ends: its lower bound is the upper one of 1 - level.
  report.compare(
    "scale, lower, failure censored",
    orNull(confidence.map((level) => scaleAt(1 - level).upper)),
    expected.etaLowerFailureCensored,
  );
  report.compare("scale if one failure is assumed", fit.sumOfPowers ** (1 / shape), expected.etaLowerOneFailureAssumed);
  report.compare(
    "B10, lower",
    confidence.map((level) => fixedShapeBounds(fit, { kind: "quantile", failedFraction: 0.1 }, level).lower),
    expected.b10LowerTimeCensored,
  );
};

const successRunData = z.object({ n: numbers, confidence: numbers, reliability: numbers, failures: numbers });
const successRunExpected = z.strictObject({
  zeroFailureLowerBound: z.array(numbers),
  exactSampleSizeZeroFailures: z.array(numbers),
  sampleSizeZeroFailures: z.array(numbers),
  lowerBoundWithFailures: z.array(z.object({ failures: z.number(), bound: z.array(z.array(z.number().nullable())) })),
  sampleSizeWithFailures: z.array(z.object({ failures: z.number(), n: z.array(numbers) })),
});
const publishedSizes = /R = (0\.\d+), C = (0\.\d+) is (\d+)/g;

const compareSuccessRun: Comparer = (one, report) => {
  const { n, confidence, reliability } = successRunData.parse(one.data);
  const expected = successRunExpected.parse(one.expected);
  const bounds = (failures: number): number[][] =>
    n.map((items) => confidence.map((level) => successRunBound(items, failures, level)));
  const sizes = (failures: number): number[][] =>
    reliability.map((wanted) => confidence.map((level) => successRunSize(wanted, level, failures)));
  report.compare("lower bound, no failures", bounds(0), expected.zeroFailureLowerBound);
  report.compare(
    "items, not rounded",
    reliability.map((wanted) => confidence.map((level) => exactSuccessRun(wanted, level))),
    expected.exactSampleSizeZeroFailures,
  );
  report.compare("items, no failures", sizes(0), expected.sampleSizeZeroFailures);
  for (const { failures, bound } of expected.lowerBoundWithFailures) {
    report.compare(`lower bound, ${failures} failures`, bounds(failures), bound);
  }
  for (const { failures, n: items } of expected.sampleSizeWithFailures) {
    report.compare(`items, ${failures} failures`, sizes(failures), items);
  }
  for (const { what } of one.publishedValues ?? []) {
    for (const [, wanted, level, items] of String(what).matchAll(publishedSizes)) {
      report.compare(
        `published (from memory): R ${wanted}, C ${level}`,
        successRunSize(Number(wanted), Number(level)),
        Number(items),
      );
    }
  }
};

const valueRecord = z.record(z.string(), z.custom<Value>());
const rows = z.strictObject({ rows: z.array(valueRecord) });

const ageReplacementData = z.object({
  scale: z.number(),
  preventiveCost: z.number(),
  shapes: numbers,
  costRatios: numbers,
});

const compareAgeReplacement: Comparer = (one, report) => {
  const { scale, preventiveCost, shapes, costRatios } = ageReplacementData.parse(one.data);
  const expected = rows.parse(one.expected).rows;
  const settings = shapes.flatMap((shape) => costRatios.map((costRatio) => ({ shape, costRatio })));
  report.compare("rows", settings.length, expected.length);
  settings.forEach(({ shape, costRatio }, place) => {
    const { note: _words, ...row } = expected[place] ?? {};
    const computed = ageReplacement({
      shape,
      scale,
      plannedCost: preventiveCost,
      failureCost: costRatio * preventiveCost,
    });
    const named: Readonly<Record<string, Value>> = { shape, costRatio, ...computed };
    for (const [name, value] of Object.entries(row))
      report.compare(`${name}, shape ${shape}, ratio ${costRatio}`, named[name], value);
  });
};

const minimalRepairData = z.object({
  rows: z.array(z.object({ shape: z.number(), scale: z.number(), replaceCost: z.number(), repairCost: z.number() })),
});

const compareMinimalRepair: Comparer = (one, report) => {
  const expected = rows.parse(one.expected).rows;
  minimalRepairData.parse(one.data).rows.forEach((setting, place) => {
    const best = minimalRepair(setting);
    const named: Readonly<Record<string, Value>> = {
      optimalPeriod: best?.optimalPeriod ?? null,
      costRate: best?.costRate ?? null,
      expectedRepairs: best?.expectedRepairs ?? null,
      costRateAtTwiceThePeriod: best?.costRateAt(2 * best.optimalPeriod) ?? null,
    };
    for (const [name, value] of Object.entries(expected[place] ?? {}))
      report.compare(`${name}, row ${place + 1}`, named[name], value);
  });
};

const returnsData = z.object({ ages: numbers, interval: z.number(), shape: z.number(), scale: z.number() });
const returnsExpected = z.strictObject({
  probability: numbers,
  expected: z.number(),
  variance: z.number(),
  pmf: numbers,
  cdf: numbers,
  equalTailIntervals: z.array(
    z.object({ level: z.number(), lower: z.number(), upper: z.number(), coverage: z.number() }),
  ),
  probabilityOfNone: z.number(),
  normalApprox95: z.object({ lower: z.number(), upper: z.number() }),
});

const compareReturns: Comparer = (one, report) => {
  const { ages, interval, shape, scale } = returnsData.parse(one.data);
  const expected = returnsExpected.parse(one.expected);
  const law = lifeLaw("weibull", { shape, scale });
  const chances = ages.map((age) => -Math.expm1(law.cumulativeHazard(age) - law.cumulativeHazard(age + interval)));
  const count = countOfFailures(chances);
  report.compare("chance of each", chances, expected.probability);
  report.compare("expected", count.expected, expected.expected);
  report.compare("variance", count.variance, expected.variance);
  report.compare("probabilities", count.probabilities, expected.pmf);
  report.compare("cumulative", count.cumulative, expected.cdf);
  for (const { level, ...row } of expected.equalTailIntervals)
    report.compare(`interval at ${level}`, { ...count.interval(level) }, row);
  report.compare("none", count.probabilities[0], expected.probabilityOfNone);
  const half = normalQuantile(0.975) * Math.sqrt(count.variance);
  report.compare(
    "normal approximation",
    { lower: count.expected - half, upper: count.expected + half },
    expected.normalApprox95,
  );
};

export const decisionComparers: Comparers = {
  "age-replacement": compareAgeReplacement,
  "conditional-life": compareConditional,
  "fixed-shape": compareFixedShape,
  "minimal-repair": compareMinimalRepair,
  "returns-prediction": compareReturns,
  "success-run": compareSuccessRun,
};
