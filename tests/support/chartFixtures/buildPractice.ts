import {
  type BuildPracticeResult,
  type LifeMultiplier,
  type PracticeComparison,
  type PracticeGroup,
  type PracticeLife,
  practiceOf,
} from "../../../analysis/index.ts";
import { definition, provenance, seeded, wholeScope } from "./common.ts";

const times = (value: number, lower: number | null, upper: number | null, confidence = 0.9): LifeMultiplier => ({
  value,
  lower,
  upper,
  confidence,
  pValue: 0.01,
});

type Given = Pick<
  PracticeComparison,
  "practice" | "level" | "at" | "against" | "item" | "mode" | "verdict" | "failures"
> &
  Partial<PracticeComparison>;

function comparison(given: Given): PracticeComparison {
  const { title, unit } = practiceOf(given.practice);
  return {
    items: given.item === "joint" ? ["J1", "J2", "J3"] : [given.item],
    title,
    unit,
    leadsTo: null,
    lives: 14 * given.failures + 30,
    serials: 34,
    with: { lives: 5 * given.failures, failures: Math.ceil(given.failures / 2) },
    without: { lives: 9 * given.failures + 30, failures: Math.floor(given.failures / 2) },
    notWritten: { lives: 0, failures: 0 },
    writtenAsText: { lives: 12, failures: 1 },
    inDoubt: { lives: 4, failures: 0 },
    unadjusted: null,
    adjusted: null,
    screenedPValue: 0.4,
    selected: null,
    shareLeft: 0.82,
    goesAlongWith: [{ what: "technician", share: 0.17 }],
    ...given,
  };
}

const joint = { item: "joint", mode: "back-off" } as const;
const comparisons: readonly PracticeComparison[] = [
  comparison({
    ...joint,
    practice: "corrected torque",
    level: null,
    at: 0.9,
    against: 1,
    verdict: "shorter life",
    failures: 62,
    unadjusted: times(0.63, 0.5, 0.79),
    adjusted: times(0.55, 0.42, 0.71),
    selected: times(0.55, 0.36, 0.82, 0.992),
    screenedPValue: 0.012,
  }),
  comparison({
    ...joint,
    practice: "compound",
    level: "zinc paste, coarse, second supplier",
    at: null,
    against: null,
    verdict: "shorter life",
    failures: 62,
    unadjusted: times(0.8, 0.6, 1.05),
    adjusted: times(0.6, 0.44, 0.83),
    selected: times(0.6, 0.38, 0.95, 0.992),
    screenedPValue: 0.031,
  }),
  comparison({
    item: "main seal",
    mode: "extrusion",
    leadsTo: "leak",
    practice: "gap",
    level: null,
    at: 0.1,
    against: 0.28,
    verdict: "longer life",
    failures: 41,
    unadjusted: times(2.9, 1.4, null),
    adjusted: times(3.4, 1.5, null),
    selected: times(3.4, 1.2, null, 0.992),
    screenedPValue: 0.044,
  }),
  comparison({
    item: "joint",
    mode: "galling",
    practice: "cycles on new threads",
    level: null,
    at: 0,
    against: 3,
    verdict: "cannot tell",
    failures: 23,
    unadjusted: times(0.62, 0.44, 0.87),
    screenedPValue: null,
    shareLeft: 0.08,
    goesAlongWith: [{ what: "technician", share: 0.91 }],
  }),
  comparison({
    ...joint,
    practice: "threadlocker",
    level: "medium",
    at: null,
    against: null,
    verdict: "no difference shown yet",
    failures: 62,
    unadjusted: times(1.4, 0.9, 2.4),
    adjusted: times(1.5, 0.92, 2.6),
  }),
  comparison({
    item: "main seal",
    mode: "extrusion",
    leadsTo: "leak",
    practice: "hardness",
    level: null,
    at: 78,
    against: 86,
    verdict: "no difference shown yet",
    failures: 41,
    unadjusted: times(0.05, null, 0.06),
    adjusted: times(0.9, null, 40),
  }),
  comparison({
    item: "joint",
    mode: "shoulder leak",
    practice: "torque",
    level: null,
    at: 0.9,
    against: 1,
    verdict: "too few failures",
    failures: 6,
    unadjusted: times(0.7, 0.2, 2.4),
    screenedPValue: null,
  }),
];

/** Build practice of an invented shop, looked at closely for torque; `few` leaves nothing that stands out. */
export function buildPracticeFixture({ few = false }: { readonly few?: boolean } = {}): BuildPracticeResult {
  const random = seeded(few ? 5 : 4);
  const count = few ? 24 : 240;
  const histories = Array.from({ length: count }, (_, index): PracticeLife => {
    const at = 0.98 + 0.24 * (random() + random() + random() - 1.5);
    const age = 60 + Math.round(520 * random());
    const failed = random() < (at < 0.92 ? 0.4 : 0.12);
    const lower = failed ? Math.round(age * random()) : age;
    return {
      lifeId: `J${1 + (index % 3)}|back-off|AD650-${String(1 + (index % 34)).padStart(3, "0")}|B-${index}`,
      serial: `AD650-${String(1 + (index % 34)).padStart(3, "0")}`,
      item: `J${1 + (index % 3)}`,
      kind: failed ? (index % 5 === 0 ? "exact" : "interval") : "right",
      at,
      name: null,
      lower: failed && index % 5 === 0 ? age : lower,
      upper: failed ? age : null,
    };
  });
  const grid = Array.from({ length: 41 }, (_, index) => 0.72 + (0.5 * index) / 40);
  const line = (spread: number) =>
    grid.map((at) => Math.exp(4.6 * (at - 1) - 14 * (at - 1) ** 2 + spread * Math.abs(at - 1)));
  const group = (
    name: string,
    from: number | null,
    to: number | null,
    lives: readonly PracticeLife[],
    fall: number,
  ): PracticeGroup => ({
    name,
    from,
    to,
    isWritten: name === "",
    lives: lives.length,
    failures: lives.filter(({ upper }) => upper !== null).length,
    serials: Math.min(34, lives.length),
    steps: Array.from({ length: 6 }, (_, index) => ({
      from: 60 + 80 * index,
      to: 60 + 80 * index + (index % 2 === 0 ? 0 : 45),
      survival: 1 - fall * (index + 1),
      lower: Math.max(0.02, 1 - fall * (index + 1) - 0.08 - 0.02 * index),
      upper: Math.min(1, 1 - fall * (index + 1) + 0.06 + 0.01 * index),
      atRisk: null,
      failures: null,
    })),
    // The last step lies beyond it and is not drawn.
    followedTo: 450,
    lifeIds: lives.map(({ lifeId }) => lifeId),
  });
  const low = histories.filter(({ at }) => (at ?? 0) < 0.95);
  const high = histories.filter(({ at }) => (at ?? 0) >= 0.95);
  const shown = few ? comparisons.filter(({ verdict }) => !verdict.endsWith("life")) : comparisons;
  const looked = few ? shown.find(({ practice }) => practice === "torque") : shown[0];
  return {
    kind: "build practice",
    definition: definition("build practice", wholeScope),
    provenance,
    scope: wholeScope,
    failureDefinition: { modes: [], statements: [], clock: "operating hours", hoursKind: "circulating" },
    comparisons: shown,
    tested: few ? 2 : 38,
    claims: few ? 0 : 3,
    falseDiscoveryRate: 0.05,
    lives: few ? 124 : 2140,
    failures: few ? 17 : 188,
    serials: 34,
    detail: looked
      ? {
          choice: { practice: looked.practice, level: looked.level, item: looked.item, mode: looked.mode },
          curve: few
            ? null
            : {
                at: grid,
                value: line(0),
                lower: line(-1.6),
                upper: line(1.6),
                confidence: 0.9,
                straightPValue: 0.02,
              },
          histories,
          groups: [
            group("", null, 0.95, low, 0.09),
            group("", 0.95, 1.05, high, 0.03),
            group("written as text", null, null, histories.slice(0, 12), 0.05),
          ],
          whoDidWhat: [
            {
              what: "technician",
              rows: [
                { name: "tech 1", lives: 80, failures: 5, practice: 1 },
                { name: "tech 2", lives: 82, failures: 14, practice: 0.91 },
              ],
            },
            { what: "customer", rows: [{ name: "not written", lives: 162, failures: 19, practice: null }] },
          ],
          otherModels: [{ what: "lognormal", lives: 890, failures: 62, multiplier: times(0.57, 0.44, 0.74) }],
          modelsAgree: true,
          withoutOne: [{ what: "tool AD650-004", lives: 860, failures: 57, multiplier: times(0.58, 0.44, 0.77) }],
          imputed: times(0.56, 0.43, 0.73),
          settling: {
            multiplier: 2 / 3,
            power: 0.8,
            shape: 1.25,
            isShapeStated: false,
            level: 0.0017,
            powerNow: few ? 0.08 : 0.84,
            asNow: { failures: 58, more: few ? 52 : 0, runs: few ? 860 : 620, moreRuns: few ? 780 : 0 },
            alternating: { failures: 44, runs: 620 },
          },
          plan: [
            { serial: "AD650-001", toolType: "axial damper", sizeIn: 6.5, first: "at" },
            { serial: "AD650-002", toolType: "axial damper", sizeIn: 6.5, first: "against" },
          ],
        }
      : null,
    lots: [
      {
        item: "main seal",
        lot: "L-118",
        mode: "extrusion",
        lives: 11,
        failures: 8,
        expected: 2.1,
        pValue: 0.0004,
        screenedPValue: few ? 0.3 : 0.02,
        isOnWatch: !few,
        lifeIds: ["main seal|extrusion|AD650-004|B-12"],
        carriedBy: [{ serial: "AD650-004", redress: "B-12", status: "out" }],
      },
    ],
    lotsTested: 40,
    joints: [
      {
        toolType: "axial damper",
        item: "J1",
        designTorqueNm: 21000,
        madeUp: 120,
        withNumber: 108,
        asText: 9,
        inDoubt: 3,
        notWritten: 0,
        below90: 14,
        above110: 6,
        medianRatio: 0.98,
        medianCorrectedRatio: 0.99,
        stress: { atDesign: 335, low: 290, middle: 331, high: 372, joints: 480 },
      },
    ],
    notices: [
      { code: "many-comparisons", facts: { tested: few ? 2 : 38 } },
      { code: "invented-data", facts: {} },
    ],
  };
}
