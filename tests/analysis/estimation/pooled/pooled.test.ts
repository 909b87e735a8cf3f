import { expect, test } from "vitest";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { climbShape } from "../../../../analysis/estimation/groups/climbShape.ts";
import { shapeProfile } from "../../../../analysis/estimation/groups/shapeProfile.ts";
import { type LifeInput, lifeSample } from "../../../../analysis/estimation/lifeSample.ts";
import { marginalLogLikelihood } from "../../../../analysis/estimation/pooled/marginalLikelihood.ts";
import { poolShapes } from "../../../../analysis/estimation/pooled/poolShapes.ts";
import { shapeTable } from "../../../../analysis/estimation/pooled/shapeTable.ts";
import { normalQuantile } from "../../../../analysis/numerics/index.ts";
import { failed, running } from "../../../support/estimation/found.ts";
import { goldenMaximum } from "../../../support/estimation/goldenMaximum.ts";
import { weibullAge } from "../../../support/estimation/randomLives.ts";
import { slowLogLikelihood } from "../../../support/estimation/slowWeibull.ts";

const sampleOf = (lives: readonly LifeInput[]) => lifeSample({ unit: "h", lives });

/** Invented groups: log shapes normal, each group followed to its median life. */
function shop(seed: number, groups: number, lives: number, mean: number, spread: number) {
  const random = randomStream(seed);
  return Array.from({ length: groups }, (_, g) => {
    const shape = Math.exp(mean + spread * normalQuantile(random.uniform()));
    const scale = 200 + 600 * random.uniform();
    const end = scale * Math.LN2 ** (1 / shape);
    const rows = Array.from({ length: lives }, (): LifeInput => {
      const age = weibullAge(random.uniform, shape, scale);
      return age <= end ? { lower: age, upper: age } : { lower: end, upper: null };
    });
    return { name: `group ${g}`, shape, sample: sampleOf(rows) };
  });
}

const three = [
  { name: "a", sample: sampleOf([...failed(120, 210, 260), ...running(280, 300)]) },
  {
    name: "b",
    sample: sampleOf([{ lower: 40, upper: 90 }, { lower: 90, upper: 140 }, { lower: 0, upper: 60 }, ...running(140)]),
  },
  { name: "c", sample: sampleOf([...failed(500, 520, 610, 640), ...running(650)]) },
];

test("the marginal likelihood agrees with plain sums over each group's shape and a plain search over its scale", () => {
  const tables = three.map(({ sample }) => shapeTable(shapeProfile(sample)));
  const profiles = three.map(({ sample }) => {
    const values = Array.from({ length: 1_100 }, (_, i) => {
      const shape = Math.exp(Math.log(0.1) + 0.005 * (i + 0.5));
      return goldenMaximum((scale) => slowLogLikelihood(sample, shape, scale), Math.log(20), Math.log(1e4), 30);
    });
    return (b: number) => values[Math.floor((b - Math.log(0.1)) / 0.005)]!;
  });
  for (const [mean, spread] of [
    [0.6, 0.3],
    [1, 0.8],
  ] as const) {
    const expected = profiles.reduce((sum, profile) => {
      let integral = 0;
      for (let i = 0; i < 1_100; i++) {
        const b = Math.log(0.1) + 0.005 * (i + 0.5);
        const z = (b - mean) / spread;
        integral += (0.005 * Math.exp(profile(b) - 0.5 * z * z)) / (spread * Math.sqrt(2 * Math.PI));
      }
      return sum + Math.log(integral);
    }, 0);
    expect(marginalLogLikelihood(tables, mean, spread)).toBeCloseTo(expected, 3);
  }
});

test("without spread the marginal likelihood is highest at the common shape of all groups", () => {
  const tables = three.map(({ sample }) => shapeTable(shapeProfile(sample)));
  const common = climbShape(
    three.map(({ sample }) => shapeProfile(sample)),
    2,
  );
  expect(marginalLogLikelihood(tables, Math.log(common!.shape), 0)).toBeCloseTo(common!.logLikelihood, 3);
});

test("forty groups of about four failures: pooled shapes are nearer the truth than own ones, and their bounds hold", () => {
  const groups = shop(3, 40, 8, Math.log(1.8), 0.25);
  const pooled = poolShapes(groups, 0.9);
  let [own, shared, inside, fitted] = [0, 0, 0, 0];
  pooled.groups.forEach((group, i) => {
    const truth = groups[i]!.shape;
    if (group.pooled.lower <= truth && truth <= group.pooled.upper) inside++;
    if (group.own.shape === null) return;
    fitted++;
    own += Math.log(group.own.shape / truth) ** 2;
    shared += Math.log(group.pooled.value / truth) ** 2;
  });
  expect(fitted).toBeGreaterThan(30);
  expect(Math.sqrt(shared / fitted)).toBeLessThan(0.6 * Math.sqrt(own / fitted));
  // 36 of 40 expected, Monte Carlo error 1.9.
  expect(inside).toBeGreaterThanOrEqual(31);
  expect(pooled.typicalShape.lower < 1.8 && 1.8 < pooled.typicalShape.upper).toBe(true);
  expect(pooled.spread.lower < 0.25 && 0.25 < pooled.spread.upper).toBe(true);
});

test("each group is drawn towards the middle, the more the fewer its failures; one without failures takes the middle", () => {
  const groups = [
    ...shop(8, 10, 30, Math.log(2), 0.2),
    { name: "none", sample: sampleOf(running(100, 200, 300)) },
    { name: "one", sample: sampleOf([...failed(80), ...running(70)]) },
    { name: "many", sample: shop(1, 1, 800, Math.log(2.9), 0)[0]!.sample },
  ];
  const pooled = poolShapes(groups, 0.9);
  const by = (name: string) => pooled.groups.find((group) => group.name === name)!;
  expect(by("none").own.maximum).toBe("no failures");
  expect(Math.abs(Math.log(by("none").pooled.value / pooled.typicalShape.value))).toBeLessThan(0.05);
  expect(by("none").pooled.scale).toBeNull();
  expect(by("one").own.shape).toBeNull();
  expect(by("one").pooled.upper).toBeLessThan(6);
  expect(Math.abs(Math.log(by("many").pooled.value / by("many").own.shape!))).toBeLessThan(0.02);
  const width = (name: string): number => Math.log(by(name).pooled.upper / by(name).pooled.lower);
  expect(width("many")).toBeLessThan(width("group 0"));
  expect(width("group 0")).toBeLessThan(width("none"));
});

test("groups that differ no more than chance: no spread is said, with how large it may be; groups that differ are told", () => {
  const alike = three[0]!.sample;
  const same = poolShapes(
    Array.from({ length: 6 }, (_, i) => ({ name: String(i), sample: alike })),
    0.9,
  );
  expect(same.maximum.spread).toBe(0);
  expect(same.noSpread).toEqual({ statistic: 0, pValue: 1 });
  expect(same.notices).toMatchObject([{ code: "no-spread-between-groups" }]);
  expect(same.spread.upper).toBeGreaterThan(0.1);
  const different = poolShapes(shop(5, 12, 60, Math.log(2), 0.6), 0.9);
  expect(different.noSpread.pValue).toBeLessThan(1e-4);
  expect(different.spread.lower).toBeGreaterThan(0.2);
});

test("order and unit of the groups do not matter; few groups are said; one group, or no failure, is refused", () => {
  const forward = poolShapes(three, 0.9);
  const turned = poolShapes([...three].reverse(), 0.9);
  expect(turned.groups[2]!.pooled.value / forward.groups[0]!.pooled.value).toBeCloseTo(1, 6);
  expect(forward.notices).toMatchObject([{ code: "few-groups", facts: { groups: 3 } }]);
  expect(() => poolShapes(three.slice(1, 2), 0.9)).toThrowError(/groups/);
  expect(() =>
    poolShapes(
      [running(10), running(20)].map((lives, i) => ({ name: String(i), sample: sampleOf(lives) })),
      0.9,
    ),
  ).toThrowError(/no-lives/);
});
