// Which modes follow the heat: against a slow maximum likelihood, and in simulated shops of known truth.
import { describe, expect, test } from "vitest";
import { weibull } from "../../../../analysis/distributions/weibull.ts";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { ageingFactor } from "../../../../analysis/mechanics/thermalAgeing.ts";
import type { Records } from "../../../../analysis/records/descriptor.ts";
import { defaultStudy } from "../../../../analysis/study/definition.ts";
import { atTemperature } from "../../../../analysis/study/heat/atTemperature.ts";
import { heatModes } from "../../../../analysis/study/heat/heatModes.ts";
import { shopData } from "../../../../analysis/study/shopData.ts";
import { shopOfLives } from "../../../support/shopOfLives.ts";

interface HotLife {
  readonly hours: number;
  readonly failed: boolean;
  readonly celsius: number;
}

const REFERENCE = 115;

/** Lives of one run each; the seal counts its hours by heat with the energy (J/mol), pulled at 400 h. */
function livesOf(seed: number, energy: number, count = 60): HotLife[] {
  const stream = randomStream(seed);
  const law = weibull({ shape: 2, scale: 300 });
  return Array.from({ length: count }, () => {
    const celsius = Math.round(80 + 70 * stream.uniform());
    const rate = energy === 0 ? 1 : ageingFactor(celsius, REFERENCE, energy);
    const failsAt = law.survivalQuantile(stream.uniform()) / rate;
    return { hours: Math.max(1, Math.min(400, failsAt)), failed: failsAt < 400, celsius };
  });
}

function recordsOf(lives: readonly HotLife[]): Records {
  const records = shopOfLives(lives);
  return {
    ...records,
    runs: (records.runs ?? []).map((run, index) => ({ ...run, max_temperature_C: lives[index]!.celsius })),
  };
}

function ask(lives: readonly HotLife[]) {
  const study = defaultStudy("fleet");
  const data = shopData(recordsOf(lives), study);
  const found = heatModes(data, study, "Valve");
  const [mode] = found?.modes ?? [];
  if (found == null || mode === undefined) throw new Error("no mode");
  return { found, mode };
}

/** Greatest log likelihood of the hours at an energy, by golden section over the shape, the scale in closed form. */
function slowLikelihood(lives: readonly HotLife[], energy: number, referenceC: number): number {
  const turned = lives.map(({ hours, failed, celsius }) => {
    const rate = energy === 0 ? 1 : ageingFactor(celsius, referenceC, energy);
    return { heat: hours * rate, failed, rate };
  });
  const failures = turned.filter(({ failed }) => failed);
  const at = (shape: number): number => {
    const power = turned.reduce((sum, { heat }) => sum + heat ** shape, 0) / failures.length;
    const scale = power ** (1 / shape);
    return failures.reduce(
      (sum, { heat, rate }) =>
        sum + Math.log(shape / scale) + (shape - 1) * Math.log(heat / scale) + Math.log(rate) - 1,
      0,
    );
  };
  let [low, high] = [0.2, 12];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let step = 0; step < 80; step++) {
    const [a, b] = [high - golden * (high - low), low + golden * (high - low)];
    if (at(a) > at(b)) high = b;
    else low = a;
  }
  return at((low + high) / 2);
}

describe("the energy", () => {
  const lives = livesOf(4, 60_000);
  const { found, mode } = ask(lives);
  const profile = mode.profile!;
  const slow = (energy: number) => slowLikelihood(lives, energy, found.wells.referenceC);

  test("is where a slow maximum likelihood has its maximum", () => {
    const energies = Array.from({ length: 320 }, (_, place) => place * 500);
    const best = energies.reduce((most, energy) => (slow(energy) > slow(most) ? energy : most), 0);
    expect(Math.abs(profile.energy - best)).toBeLessThanOrEqual(500);
  });

  test("has bounds where twice the log likelihood has fallen by the 90 % point of chi-square", () => {
    const top = slow(profile.energy);
    const fall = (energy: number) => 2 * (top - slow(energy));
    expect(fall(profile.lower)).toBeLessThan(2.706 + 0.05);
    expect(fall(profile.lower - 1_000)).toBeGreaterThan(2.706);
    expect(fall(profile.upper!)).toBeLessThan(2.706 + 0.05);
    expect(fall(profile.upper! + 1_000)).toBeGreaterThan(2.706);
  });

  test("decides that the mode follows the heat; hotter wells make its hours fewer in proportion", () => {
    expect(mode.heat).not.toBeNull();
    const scaleAt = (celsius: number) => {
      const { law } = atTemperature(mode, found, celsius);
      return law.kind === "linked" ? Number.NaN : law.life.scale;
    };
    const times = ageingFactor(140, 100, profile.energy);
    expect(scaleAt(100) / scaleAt(140)).toBeCloseTo(times, 9);
    const { draws } = atTemperature(mode, found, 140);
    expect(draws).toHaveLength(300);
    expect(new Set(mode.heat?.draws.map(({ energy }) => energy)).size).toBe(5);
  });
});

test("under ten failures a mode is not tested, and keeps its hours", () => {
  const few = livesOf(3, 60_000).map((life, index) => ({ ...life, failed: life.failed && index < 9 }));
  const { found, mode } = ask(few);
  expect(mode).toMatchObject({ untested: "under ten failures", profile: null, heat: null });
  expect(atTemperature(mode, found, 150)).toBe(mode.plain);
});

test("asked about one serial, the wells and the modes are still those of all, whoever asked first", () => {
  const records = recordsOf(livesOf(4, 60_000));
  const asked = (serial: string | null) => {
    const study = defaultStudy("fleet", { serial });
    return heatModes(shopData({ ...records }, study), study, "Valve");
  };
  const [all, one] = [asked(null), asked("V-1")];
  expect(one?.wells).toEqual(all?.wells);
  expect(one?.modes[0]?.profile).toEqual(all?.modes[0]?.profile);
});

describe("simulated shops of sixty lives", () => {
  const SEEDS = 60;
  const outcomes = (energy: number) =>
    Array.from({ length: SEEDS }, (_, seed) => ask(livesOf(500 + seed, energy)).mode);

  test("without heat hardly any is said to follow it (5 % asked)", () => {
    const claims = outcomes(0).filter(({ heat }) => heat !== null).length;
    // Binomial(60, 0.05): more than 7 in under one of a hundred.
    expect(claims).toBeLessThanOrEqual(7);
  });

  test("with 50 kJ/mol nearly all are, and the 90 % bounds hold the energy", () => {
    const hot = outcomes(50_000);
    expect(hot.filter(({ heat }) => heat !== null).length).toBeGreaterThanOrEqual(55);
    const held = hot.filter(({ profile }) => profile!.lower <= 50_000 && 50_000 <= (profile!.upper ?? Infinity)).length;
    // Binomial(60, 0.9): 48 or fewer in one of a hundred.
    expect(held).toBeGreaterThanOrEqual(48);
  });
});
