import { describe, expect, test } from "vitest";
import { deriveLives, type Life } from "../../analysis/index.ts";
import {
  cleanFleet,
  defaultFleet,
  type FleetDirt,
  type FleetEffects,
} from "../../datasets/sample-fleet/generator/options.ts";
import { randomStream } from "../../datasets/sample-fleet/generator/random.ts";
import { type Fleet, simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { type TrueLife, thermalAcceleration } from "../../datasets/sample-fleet/generator/trueLife.ts";
import { effectTruths, modeTruths } from "../../datasets/sample-fleet/generator/truth.ts";

/** Probability of outliving the latent age, given survival to where the life begins: uniform if the law holds. */
function survivalAtFailure(life: TrueLife): number {
  const { shape, scale } = life.law;
  if (life.delay !== null) return Math.exp(-((life.delay / scale) ** shape));
  const entry = life.entrySound ? life.entryAge : 0;
  return Math.exp(-life.multiplier * ((life.latentAge / scale) ** shape - (entry / scale) ** shape));
}

/** Kolmogorov's distance from the uniform, times the square root of n. */
function kolmogorov(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const n = sorted.length;
  const distance = Math.max(...sorted.map((value, i) => Math.max((i + 1) / n - value, value - i / n)));
  return distance * Math.sqrt(n);
}

const lawOf = (life: TrueLife) => `${life.law.shape}/${life.law.scale}`;
const keyOfLife = (life: { item: string; mode: string; serial: string; since: string }) =>
  JSON.stringify([life.item, life.mode, life.serial, life.since]);

function failuresByMode(fleet: Fleet): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { item, mode, failedAt } of fleet.trueLives) {
    const name = `${/^J\d$/.test(item) ? "joint" : item}: ${mode}`;
    counts.set(name, (counts.get(name) ?? 0) + (failedAt === null ? 0 : 1));
  }
  return counts;
}

describe("the sample fleet's truth", { timeout: 60_000 }, () => {
  // Critical value: limit distribution of Kolmogorov (1933), upper 0.1 % point 1.949 (from memory). Twelve laws, fixed seeds.
  test("latent ages follow the laws that truth.ts writes down, without effects and with their multipliers", () => {
    for (const options of [cleanFleet, defaultFleet]) {
      const lives = [1, 2, 3].flatMap((seed) => simulateFleet({ ...options, seed }).trueLives);
      for (const truth of modeTruths) {
        const ofLaw = lives.filter(
          (life) => lawOf(life) === `${truth.law.shape}/${truth.law.scale}` && life.mode === truth.mode,
        );
        expect(ofLaw.length, `${truth.item}: ${truth.mode}`).toBeGreaterThan(100);
        expect(kolmogorov(ofLaw.map(survivalAtFailure)), `${truth.item}: ${truth.mode}`).toBeLessThan(1.949);
      }
    }
  });

  test("the same check finds a scale that is 15 % off, so it can fail", () => {
    const lives = [1, 2, 3].flatMap((seed) => simulateFleet({ ...cleanFleet, seed }).trueLives);
    const extrusion = lives.filter(({ item, mode }) => item === "main seal" && mode === "extrusion");
    const off = extrusion.map((life) =>
      survivalAtFailure({ ...life, law: { ...life.law, scale: life.law.scale * 1.15 } }),
    );
    expect(kolmogorov(off)).toBeGreaterThan(1.949);
  });

  test("what the records show brackets what truly happened: exact, interval and censored lives alike", () => {
    const fleet = simulateFleet(cleanFleet);
    const derived = deriveLives(fleet.records, { cutoff: null });
    const truth = new Map(fleet.trueLives.map((life) => [keyOfLife(life), life]));
    expect(derived.lives.length).toBeGreaterThan(5000);
    const wrong = derived.lives.filter((life: Life) => {
      const real = truth.get(keyOfLife(life));
      if (real === undefined || typeof life.lower !== "number" || Array.isArray(life.upper)) return true;
      const failedAt = real.failedAt ?? Number.POSITIVE_INFINITY;
      // Hours seen are written to a tenth, so an exact age is within 0.05 h, or 0.1 h in the first minutes of a run.
      if (life.kind === "exact") return Math.abs(life.lower - failedAt) > 0.1;
      return failedAt <= life.lower || (typeof life.upper === "number" && failedAt > life.upper);
    });
    expect(
      wrong.map((life) => [life.id, life.kind, life.lower, life.upper, truth.get(keyOfLife(life))?.failedAt]),
    ).toEqual([]);
    expect(derived.excluded).toEqual([]);
    expect(derived.notices).toEqual([]);
    // No restoration that ran is lost between truth and lives.
    expect(derived.lives.length + derived.noInformationYet.length).toBe(fleet.trueLives.length);
  });

  test("without effects and dirt, an operating hour is an hour of the clock: failures happen at the latent age", () => {
    const failed = simulateFleet(cleanFleet).trueLives.filter(({ failedAt }) => failedAt !== null);
    expect(failed.length).toBeGreaterThan(300);
    for (const { failedAt, latentAge, multiplier } of failed) {
      expect(Math.abs((failedAt ?? 0) - latentAge)).toBeLessThan(1e-6);
      expect(multiplier).toBe(1);
    }
  });

  test("the committed fleet has the stated size", () => {
    const fleet = simulateFleet(defaultFleet);
    expect(fleet.records.tools).toHaveLength(60);
    expect(fleet.records.redresses?.length).toBeGreaterThan(600);
    expect(fleet.records.redresses?.length).toBeLessThan(800);
    expect(fleet.records.runs?.length).toBeGreaterThan(2700);
    expect(fleet.records.runs?.length).toBeLessThan(3300);
    const failures = failuresByMode(fleet);
    const main = [
      "main seal: extrusion",
      "main seal: leak",
      "main seal: compression set",
      "gate seal: extrusion",
      "gate seal: leak",
      "guide band: wear",
      "anti-rotation pin: wear",
      "stack: compression set",
      "joint: back-off",
      "joint: galling",
      "joint: shoulder leak",
    ];
    for (const mode of main) {
      expect(failures.get(mode), mode).toBeGreaterThanOrEqual(15);
      expect(failures.get(mode), mode).toBeLessThanOrEqual(120);
    }
    const dates = [
      ...(fleet.recorded.runs ?? []).flatMap((run) => [
        run.out_on,
        run.in_on ?? run.out_on,
        run.reported_on ?? run.out_on,
      ]),
      ...(fleet.recorded.teardowns ?? []).map((row) => row.done_on),
      ...(fleet.recorded.redresses ?? []).map((row) => row.done_on),
    ].toSorted();
    expect((dates[0] ?? "") >= "2023-01-01" && (dates.at(-1) ?? "") <= "2026-06-30").toBe(true);
  });

  test("equal options give an equal fleet, another seed another", () => {
    expect(simulateFleet(cleanFleet)).toEqual(simulateFleet(cleanFleet));
    expect(simulateFleet({ ...cleanFleet, seed: 2 }).records.runs).not.toEqual(simulateFleet(cleanFleet).records.runs);
  });

  test("each effect is a switch: alone it changes the lives and says how", () => {
    const off = simulateFleet(cleanFleet);
    const multipliers = (effects: Partial<FleetEffects>, pick: (life: TrueLife) => boolean) =>
      simulateFleet({ ...cleanFleet, effects: { ...cleanFleet.effects, ...effects } })
        .trueLives.filter(pick)
        .map(({ multiplier }) => multiplier);
    const of =
      (...modes: readonly string[]) =>
      (life: TrueLife) =>
        modes.includes(life.mode);
    const vary = (values: readonly number[]) => new Set(values).size > 1;
    expect(vary(multipliers({ torque: true }, of("back-off")))).toBe(true);
    expect(vary(multipliers({ torque: true }, of("galling", "extrusion")))).toBe(false);
    expect(vary(multipliers({ compound: true }, of("shoulder leak")))).toBe(true);
    expect(new Set(multipliers({ locker: true }, of("back-off")))).toEqual(new Set([1, effectTruths.locker]));
    expect([...new Set(multipliers({ cycles: true }, of("galling")))].toSorted()).toEqual(
      [...effectTruths.cycles].toSorted(),
    );
    expect(new Set(multipliers({ sealLot: true }, of("extrusion")))).toEqual(
      new Set([1, effectTruths.badLot.multiplier]),
    );
    expect(vary(multipliers({ hardness: true }, of("extrusion")))).toBe(true);
    expect(vary(multipliers({ gap: true }, of("extrusion")))).toBe(true);
    expect(new Set(multipliers({ size: true }, (life) => life.item === "guide band"))).toEqual(new Set([1, 1.4]));
    expect(new Set(multipliers({ toolSpread: true }, of("galling"))).size).toBe(60);
    for (const effect of ["temperature", "vibration", "consequences", "renewDegraded"] as const) {
      const on = simulateFleet({ ...cleanFleet, effects: { ...cleanFleet.effects, [effect]: true } });
      expect(on.trueLives, effect).not.toEqual(off.trueLives);
    }
  });

  test("each kind of dirt is a switch: alone it plants its own kind and no other", () => {
    const clean = { ...cleanFleet, dirt: cleanFleet.dirt };
    const kinds: Readonly<Partial<Record<keyof FleetDirt, string>>> = {
      midLifeEntry: "in use before the records",
      lostInHole: "lost in hole",
      leakingCodedPlanned: "leaking tool coded planned",
      notTornDown: "never torn down",
      lateReports: "late report",
      swappedItems: "item swapped",
      hourNotNoted: "hour not noted",
      maskedFailures: "tool failure, no item named",
      refittedFailed: "failed item refitted",
      buildRejects: "build failed its test",
      missingHours: "hours missing",
      zeroHours: "zero hours",
      heapedHours: "heaped hours",
      torqueAsText: "torque as text",
      newtonMetres: "N·m in a ft-lbf column",
      celsius: "degC in a degF column",
      duplicateRuns: "duplicate run",
      splitRuns: "split run",
      runsMissing: "run missing",
      buildsMissing: "build missing",
      swappedSerials: "serial swapped",
      blankReasons: "reason blank",
      habitOther: "other by habit",
    };
    const truth = JSON.stringify(simulateFleet(clean).records);
    for (const [name, kind] of Object.entries(kinds)) {
      const { planted, records } = simulateFleet({ ...clean, dirt: { ...clean.dirt, [name]: true } });
      const isPlanted = planted.some(({ change }) => change !== "none");
      if (isPlanted) expect(JSON.stringify(records) === truth, `${name} moved the shop`).toBe(true);
      expect([...new Set(planted.map((fault) => fault.kind))], name).toEqual([kind]);
    }
    const sounds = (fleet: Fleet) =>
      fleet.records.findings?.filter(({ condition }) => condition === "sound").length ?? 0;
    const unwritten = simulateFleet({ ...clean, dirt: { ...clean.dirt, soundUnwritten: true } });
    expect(sounds(unwritten) / sounds(simulateFleet(clean))).toBeCloseTo(0.7, 1);
  });

  // Mean 1 and the stated variance: standard errors of 20,000 draws are 0.0035 and about 0.005; five of them allowed.
  test("the tool-to-tool factor has mean 1 and the stated variance", () => {
    const draw = randomStream(11, "gamma");
    const values = Array.from({ length: 20_000 }, () => draw.gammaMeanOne(effectTruths.toolSpreadVariance));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
    expect(Math.abs(mean - 1)).toBeLessThan(0.018);
    expect(Math.abs(variance - effectTruths.toolSpreadVariance)).toBeLessThan(0.025);
  });

  // Worked by hand: Ea 40 kJ/mol, 110 to 120 degC: 40000/8.314 * (1/383.15 - 1/393.15) = 0.319391; exp = 1.37629
  test("hours at 120 degC count 1.376 times those at 110 degC", () => {
    expect(thermalAcceleration(110)).toBe(1);
    expect(thermalAcceleration(120)).toBeCloseTo(1.37629, 5);
  });
});
