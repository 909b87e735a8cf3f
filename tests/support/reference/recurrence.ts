import { z } from "zod";
import { intervalTrendTests } from "../../../analysis/recurrence/intervalTrendTests.ts";
import { meanCumulativeFunction } from "../../../analysis/recurrence/meanCumulativeFunction.ts";
import { powerLaw } from "../../../analysis/recurrence/powerLaw.ts";
import { trendTests } from "../../../analysis/recurrence/trendTests.ts";
import type { FollowedSystem, RecurrentUnit } from "../../../analysis/recurrence/types.ts";
import { varianceByRiskSet } from "../../../analysis/recurrence/varianceByRiskSet.ts";
import { type VirtualAgeAt, virtualAge, virtualAgeAt } from "../../../analysis/recurrence/virtualAge.ts";
import type { RepairedTool, RepairKind } from "../../../analysis/recurrence/virtualAgePath.ts";
import { countValues } from "./runCases.ts";
import type { Comparer, Comparers, Report, Value } from "./types.ts";

const numbers = z.array(z.number());
const values = z.record(z.string(), z.custom<Value>());

/** Compares what is computed, counts the rest as not covered. */
function compareEach(computed: Readonly<Record<string, Value>>, expected: unknown, report: Report): void {
  for (const [name, value] of Object.entries(values.parse(expected))) {
    if (name in computed) report.compare(name, computed[name], value);
    else report.notCovered(name, countValues(value));
  }
}

const eventRows = z.object({ id: z.array(z.string()), time: numbers, event: numbers });

const compareMeanCumulative: Comparer = (one, report) => {
  const { id, time, event } = eventRows.parse(one.data);
  const units: RecurrentUnit[] = [...new Set(id)].map((name) => {
    const rows = id.flatMap((other, i) => (other === name ? [i] : []));
    return {
      id: name,
      observed: [{ from: 0, to: Math.max(...rows.map((i) => time[i]!)) }],
      events: rows.filter((i) => event[i] === 1).map((i) => time[i]!),
    };
  });
  const { steps } = meanCumulativeFunction(units, { confidence: 0.95 });
  const limits = (pick: "bounds" | "plainBounds"): Value => ({
    lower: steps.map((step) => step[pick].lower),
    upper: steps.map((step) => step[pick].upper),
  });
  compareEach(
    {
      time: steps.map((step) => step.time),
      unitsAtRisk: steps.map((step) => step.atRisk),
      events: steps.map((step) => step.events),
      mcf: steps.map((step) => step.mean),
      seRobust: steps.map((step) => step.standardError),
      ci95Plain: limits("plainBounds"),
      ci95Log: limits("bounds"),
      varianceUnbiasedRiskSet: [...varianceByRiskSet(units)],
      sePoisson: steps.map((step) => step.independentStandardError),
    },
    one.expected,
    report,
  );
};

const systemsData = z.object({
  systems: z.array(numbers),
  endOfObservation: numbers,
  truncation: z.enum(["time", "failure"]),
});

const comparePowerLaw: Comparer = (one, report) => {
  const data = systemsData.parse(one.data);
  const systems: FollowedSystem[] = data.systems.map((failures, i) => ({
    failures,
    end: data.endOfObservation[i]!,
    endedBy: data.truncation,
  }));
  const fits = { 0.95: powerLaw(systems, { confidence: 0.95 })!, 0.9: powerLaw(systems, { confidence: 0.9 })! };
  const fit = fits[0.95];
  const trend = trendTests(systems);
  const alone = systems.length === 1 ? intervalTrendTests(systems[0]!) : null;
  const exact = (level: 0.95 | 0.9, bounds: { lower: number; upper: number } | null | undefined): Value => ({
    level,
    df: 2 * (fit.failures - (data.truncation === "failure" ? systems.length : 0)),
    lower: bounds?.lower ?? null,
    upper: bounds?.upper ?? null,
  });
  const levels = [0.95, 0.9] as const;
  compareEach(
    {
      truncation: data.truncation,
      n: fit.failures,
      lambda: fit.factor,
      beta: fit.shape,
      eta: fit.scale,
      logLik: fit.logLikelihood,
      covarianceNatural: { names: ["lambda", "beta"], matrix: fit.covariance.map((row) => [...row]) },
      waldLogCI: levels.map((level) => ({
        level,
        beta: { ...fits[level].waldBounds.shape },
        lambda: { ...fits[level].waldBounds.factor },
      })),
      betaExactCI: levels.map((level) => exact(level, fits[level].atEnd?.exactBounds)),
      betaUnbiased: fit.conditional?.unbiasedShape ?? null,
      lambdaWithUnbiasedBeta: fit.atEnd?.unbiasedFactor ?? null,
      betaProfileCI95: { ...fit.profileBounds },
      atEnd: {
        t: fit.atEnd?.end ?? null,
        intensity: fit.atEnd?.intensity ?? null,
        instantaneousMtbf: fit.atEnd ? 1 / fit.atEnd.intensity : null,
        cumulativeMtbf: fit.atEnd ? fit.atEnd.end / fit.atEnd.expected : null,
        expectedPerSystem: fit.atEnd?.expected ?? null,
      },
      laplace: { u: trend.laplace?.statistic ?? null, pTwoSided: trend.laplace?.pValue ?? null },
      militaryHandbook: {
        chiSquare: trend.handbook?.chiSquare ?? null,
        df: trend.handbook?.degreesOfFreedom ?? null,
        pLower: trend.handbook?.lowerTail ?? null,
        pUpper: trend.handbook?.upperTail ?? null,
        pTwoSided: trend.handbook?.pValue ?? null,
      },
      lewisRobinson: {
        cvOfIntervals: alone?.lewisRobinson?.variation ?? null,
        z: alone?.lewisRobinson?.statistic ?? null,
        pTwoSided: alone?.lewisRobinson?.pValue ?? null,
      },
      reverseArrangements: {
        count: alone?.reverseArrangements.count ?? null,
        mean: alone?.reverseArrangements.mean ?? null,
        variance: alone?.reverseArrangements.variance ?? null,
      },
    },
    withoutNotes(one.expected),
    report,
  );
  const expected = values.parse(one.expected);
  report.compare(
    "betaConditional",
    {
      mle: fit.conditional?.shape ?? null,
      unbiased: fit.conditional?.unbiasedShape ?? null,
      ci95: { ...fits[0.95].conditional?.bounds },
      ci90: { ...fits[0.9].conditional?.bounds },
    },
    withoutNote(expected.betaConditional),
  );
  report.compare(
    "cramerVonMises",
    {
      M: fit.conditional?.failures ?? null,
      betaUsed: fit.conditional?.unbiasedShape ?? null,
      statistic: fit.conditional?.cramerVonMises ?? null,
    },
    withoutNote(expected.cramerVonMises),
  );
  for (const entry of one.publishedValues ?? []) {
    if (typeof entry.lambda === "number" && typeof entry.beta === "number") {
      report.compare("published lambda", fit.factor, entry.lambda, { absolute: 0.0005 });
      report.compare("published beta", fit.shape, entry.beta, { absolute: 0.0005 });
    } else if (String(entry.what).startsWith("Military handbook")) {
      report.compare("published chi-square", trend.handbook?.chiSquare, Number(entry.value), { absolute: 0.005 });
    } else if (String(entry.what).startsWith("improvement slope")) {
      const slope = 1 - (fit.conditional?.unbiasedShape ?? Number.NaN);
      report.compare("published improvement slope", slope, Number(entry.value), { absolute: 0.00005 });
    } else {
      report.notCovered(`published ${String(entry.what)}`, 1);
    }
  }
};

function withoutNote(expected: Value | undefined): Value {
  const { note: _, ...rest } = values.parse(expected);
  return rest;
}

function withoutNotes(expected: unknown): unknown {
  const { betaConditional: _, cramerVonMises: __, ...rest } = values.parse(expected);
  return rest;
}

const virtualAgeData = z.object({ intervals: z.array(numbers), closingCensoredInterval: numbers.nullable() });
const oneModel = z
  .object({
    atBoundary: z.boolean(),
    parameters: z.object({ shape: z.number(), scale: z.number(), q: z.number() }),
    logLik: z.number(),
    covarianceTransformed: z.object({ matrix: z.array(numbers) }).optional(),
    profileOverQ: z.array(z.object({ q: z.number() }).catchall(z.number())),
  })
  .catchall(z.unknown());
const virtualAgeExpected = z.object({
  kijimaI: oneModel,
  kijimaII: oneModel,
  renewalWeibull: values,
  powerLaw: values,
});

const compareVirtualAge: Comparer = (one, report) => {
  const data = virtualAgeData.parse(one.data);
  const tools: RepairedTool[] = data.intervals.map((intervals, i) => ({
    intervals,
    running: data.closingCensoredInterval?.[i] ?? null,
  }));
  const expected = virtualAgeExpected.parse(one.expected);
  const plain = ({ shape, scale, logLikelihood }: VirtualAgeAt): Value => ({ shape, scale, logLik: logLikelihood });
  report.compare("renewalWeibull", plain(virtualAgeAt(tools, "whole age", 0)), expected.renewalWeibull);
  report.compare("powerLaw", plain(virtualAgeAt(tools, "last stretch", 1)), expected.powerLaw);
  const models: readonly [RepairKind, "kijimaI" | "kijimaII"][] = [
    ["last stretch", "kijimaI"],
    ["whole age", "kijimaII"],
  ];
  for (const [kind, name] of models) {
    const model = expected[name];
    const fit = virtualAge(tools, kind);
    report.compare(`${name} atBoundary`, fit.edge === "as good as new", model.atBoundary);
    report.compare(`${name} parameters`, { shape: fit.shape, scale: fit.scale, q: fit.q }, model.parameters);
    report.compare(`${name} logLik`, fit.logLikelihood, model.logLik);
    if (model.covarianceTransformed) {
      const matrix = fit.covariance?.map((row) => [...row]) ?? null;
      report.compare(`${name} covariance`, matrix, model.covarianceTransformed.matrix);
    }
    for (const point of model.profileOverQ) {
      const at = virtualAgeAt(tools, kind, point.q);
      report.compare(
        `${name} at q ${point.q}`,
        { q: at.q, shape: at.shape, scale: at.scale, logLik: at.logLikelihood },
        point,
      );
    }
    report.notCovered("maxAbsScore", model.maxAbsScore === undefined ? 0 : 1);
  }
};

/** Mean cumulative function, power-law process with trend tests, virtual age. */
export const recurrenceComparers: Comparers = {
  "mean-cumulative-function": compareMeanCumulative,
  "power-law": comparePowerLaw,
  "virtual-age": compareVirtualAge,
};
