/**
 * The truths behind the invented fleet, in one place and plain data. Studies read them to compare what they
 * estimate with what is so. Every figure is invented.
 *
 * Law of a life: S(t) = exp(-multiplier * (t / scale)^shape), t in hours on the mode's clock. The clock counts
 * operating hours; with the effects `temperature` or `vibration` on, the hours of a run count `acceleration` times.
 */

export interface WeibullLaw {
  readonly shape: number;
  /** Hours. */
  readonly scale: number;
}

export interface ModeTruth {
  /** An item, or a kind of item. */
  readonly item: string;
  readonly mode: string;
  readonly announces: "evident" | "hidden";
  readonly threshold: number;
  readonly restoredBy: "renewed" | "made up";
  readonly leadsTo: string | null;
  readonly law: WeibullLaw;
  /** The law is that of the delay after this mode, not of the age itself. */
  readonly after: string | null;
  readonly thermal: boolean;
  readonly vibrating: boolean;
  /** Multiplier of the larger size. */
  readonly largeSize: number;
}

const mode = (
  item: string,
  name: string,
  announces: "evident" | "hidden",
  restoredBy: "renewed" | "made up",
  law: WeibullLaw,
  more: Partial<Pick<ModeTruth, "leadsTo" | "after" | "thermal" | "vibrating" | "largeSize">> = {},
): ModeTruth => ({
  item,
  mode: name,
  announces,
  threshold: 3,
  restoredBy,
  leadsTo: more.leadsTo ?? null,
  law,
  after: more.after ?? null,
  thermal: more.thermal ?? false,
  vibrating: more.vibrating ?? false,
  largeSize: more.largeSize ?? 1,
});

export const modeTruths: readonly ModeTruth[] = [
  mode("main seal", "extrusion", "hidden", "renewed", { shape: 2.4, scale: 480 }, { leadsTo: "leak", thermal: true }),
  mode("main seal", "leak", "evident", "renewed", { shape: 1.3, scale: 90 }, { after: "extrusion", thermal: true }),
  mode("main seal", "compression set", "hidden", "renewed", { shape: 3, scale: 620 }, { thermal: true }),
  mode("gate seal", "extrusion", "hidden", "renewed", { shape: 2, scale: 460 }, { leadsTo: "leak", thermal: true }),
  mode("gate seal", "leak", "evident", "renewed", { shape: 1.3, scale: 80 }, { after: "extrusion", thermal: true }),
  mode("stack", "compression set", "hidden", "renewed", { shape: 3, scale: 900 }, { thermal: true, largeSize: 1.3 }),
  mode("guide", "wear", "hidden", "renewed", { shape: 3, scale: 900 }, { largeSize: 1.4 }),
  mode("pin", "wear", "hidden", "renewed", { shape: 2.2, scale: 1100 }, { vibrating: true }),
  mode("joint", "back-off", "hidden", "made up", { shape: 1.3, scale: 2600 }, { vibrating: true }),
  mode("joint", "shoulder leak", "evident", "made up", { shape: 1.2, scale: 7500 }),
  mode("joint", "galling", "hidden", "renewed", { shape: 1.6, scale: 5500 }),
  mode("body", "pitting", "hidden", "renewed", { shape: 2, scale: 6500 }),
];

/** Sizes of the effects. Multipliers act on the cumulative hazard. */
export const effectTruths = {
  /** exp(-slope * (ratio - 1)) on back-off and shoulder leak; ratio = final torque / design torque (/ friction factor). */
  torqueSlope: { "back-off": 7, "shoulder leak": 4 },
  /** Multiplier on galling by make-and-break cycles on new threads; three or more is the reference. */
  cycles: [2.6, 1.7, 1.25, 1],
  /** Multiplier on back-off with threadlocker. */
  locker: 0.6,
  /** Share of bad seal lots and their multiplier on extrusion and compression set. */
  badLot: { share: 0.12, multiplier: 2.5 },
  /** exp(-slope * (Shore A - 82)) on extrusion. */
  hardnessSlope: 0.05,
  /** exp(slope * (gap - 0.178 mm) / 0.0254 mm) on extrusion: a slope a thousandth of an inch. */
  gapSlope: 0.12,
  /** Acceleration exp(Ea/R (1/T_ref - 1/T)), T in K; activation energy in J/mol, reference in degC. */
  temperature: { activationEnergy: 40_000, referenceC: 110 },
  /** Acceleration by vibration class 0 to 3. */
  vibration: [0.75, 1, 1.4, 2],
  /** Gamma factor a serial with mean 1 and this variance. */
  toolSpreadVariance: 0.25,
  /** Probability that a back-off brings galling with it. */
  gallingFromBackOff: 0.15,
} as const;

/** How the shop works. */
export const practiceTruths = {
  redressIntervalHours: { from: 150, to: 240 },
  runHours: { median: 42, logSd: 0.62, from: 10, to: 150 },
  hoursPerDay: { from: 12, to: 20 },
  temperatureF: { mean: 228, sd: 30, from: 120, to: 320 },
  /** Probability that a teardown opens and looks at an item. */
  looksAt: {
    "main seal": 1,
    "gate seal": 1,
    J1: 1,
    J2: 0.75,
    J3: 0.55,
    "guide band": 0.9,
    "anti-rotation pin": 0.85,
    stack: 0.9,
    mandrel: 0.6,
    "index pin": 1,
  },
  /** Renewed by age, whatever its state: beyond `hours`, with this probability at each redress that opens it. */
  renewedByAge: {
    "guide band": { hours: 500, probability: 0.5 },
    "anti-rotation pin": { hours: 800, probability: 0.4 },
    stack: { hours: 450, probability: 0.6 },
    mandrel: { hours: 2200, probability: 0.15 },
  },
  /** Threads recut at a redress that opens the joint, whatever their state. */
  threadsRecut: 0.03,
  /** A seal with fewer than `hours` that is found sound is carried over with this probability. */
  sealCarriedOver: { hours: 110, probability: 0.5 },
  /** Techs: bias and spread of the torque ratio, cycles on new threads, and whether the target follows the compound. */
  technicians: [
    { name: "tech 1", torqueBias: 0, torqueSd: 0.04, cycles: 3, corrects: true },
    { name: "tech 2", torqueBias: -0.08, torqueSd: 0.07, cycles: 2, corrects: false },
    { name: "tech 3", torqueBias: 0.03, torqueSd: 0.05, cycles: 3, corrects: true },
    { name: "tech 4", torqueBias: -0.03, torqueSd: 0.08, cycles: 0, corrects: false },
    { name: "tech 5", torqueBias: 0.01, torqueSd: 0.05, cycles: 1, corrects: true },
  ],
  /** Wear and set as measured reach this limit at the failure age; (age / failure age)^power of it before. */
  measured: {
    wear: { kind: "wear", unit: "mm", limit: 1.5, power: 0.9 },
    "compression set": { kind: "compression set", unit: "%", limit: 60, power: 0.7 },
  },
} as const;

/** The confounded shop: torque ratio of those who make up low, its spread, and the rise in vibration class of their wells. */
export const confoundedTruths = { crews: 8, lowRatio: 0.87, torqueSd: 0.02, rougherBy: 1 } as const;
