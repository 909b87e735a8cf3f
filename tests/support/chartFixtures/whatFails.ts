import type { ModeRate, WhatFailsResult } from "../../../analysis/index.ts";
import { cutoff, dateOn, definition, items, provenance, seeded, toolType, wholeScope } from "./common.ts";
import { rateOf } from "./estimate.ts";

export interface WhatFailsFixtureOptions {
  readonly seed?: number;
  /** Multiplies the hours followed: below 1 gives few failures everywhere. */
  readonly size?: number;
}

/** True rates per 1,000 h of the invented tool, with hours looked at as a part of hours run. */
const truths: readonly (readonly [
  item: string,
  mode: string,
  announces: "evident" | "hidden",
  rate: number,
  part: number,
])[] = [
  ["main seal", "extrusion", "hidden", 1.15, 0.86],
  ["main seal", "leak", "evident", 0.52, 1],
  ["main seal", "abrasion", "hidden", 0.24, 0.86],
  ["upper seal", "extrusion", "hidden", 0.46, 0.85],
  ["upper seal", "leak", "evident", 0.21, 1],
  ["J1", "galling", "hidden", 0.31, 0.72],
  ["J2", "back-off", "hidden", 0.58, 0.74],
  ["J2", "galling", "hidden", 0.26, 0.74],
  ["J3", "back-off", "hidden", 0.39, 0.74],
  ["J4", "galling", "hidden", 0.1, 0.7],
  ["J4", "shoulder leak", "hidden", 0.16, 0.7],
  ["spring stack", "fatigue crack", "hidden", 0.13, 0.66],
  ["torque pin", "wear", "hidden", 0.2, 0.8],
  ["guide band", "wear", "hidden", 0.44, 0.9],
  ["top body", "washout", "evident", 0.02, 1],
];

/** What fails in an invented fleet of 34 axial dampers over three and a half years. */
export function whatFailsFixture({ seed = 11, size = 1 }: WhatFailsFixtureOptions = {}): WhatFailsResult {
  const random = seeded(seed);
  const poisson = (mean: number): number => {
    let product = random();
    let count = 0;
    for (const limit = Math.exp(-mean); product > limit; count++) product *= random();
    return count;
  };
  const halves = [2023, 2024, 2025, 2026].flatMap((year) => [`${year}-1`, `${year}-2`]).slice(0, 7);
  const hoursRun = halves.map((_, index) => Math.round(size * (5200 + 900 * index + 1400 * random())));
  const counts = truths.map(([, mode, , rate, part], row) =>
    hoursRun.map((hours, half) => {
      // Back-off fell after a change of practice in 2025: something for the picture over time to show.
      const change = mode === "back-off" ? (half >= 4 ? 0.35 : 1.5) : 1;
      return { failures: poisson((rate * change * hours * part) / 1000), hours: Math.round(hours * part), row };
    }),
  );
  const modes: ModeRate[] = truths.map(([item, mode, announces, rate], index) => {
    const failures = (counts[index] ?? []).reduce((sum, cell) => sum + cell.failures, 0);
    const hours = (counts[index] ?? []).reduce((sum, cell) => sum + cell.hours, 0);
    const listed = items.find((row) => row.item === item);
    return {
      toolType,
      item,
      itemKind: listed?.kind ?? "body",
      position: listed?.position ?? null,
      mode,
      announces,
      failures,
      hours,
      looks: announces === "hidden" ? Math.round(hours / 120) : 0,
      rate: rateOf(failures, hours),
      shrunkenRate: ((failures + 2) / (hours + 2000 / Math.max(0.1, rate))) * 1000,
      few: failures < 5,
      broughtBack: announces === "evident" ? failures : Math.round(failures * 0.2),
      lifeIds: Array.from(
        { length: failures },
        (_, life) => `${item}|${mode}|AD650-${String((life % 34) + 1).padStart(3, "0")}|R-${2000 + life}`,
      ),
    };
  });
  const total = hoursRun.reduce((sum, hours) => sum + hours, 0);
  const toolFailures = Math.round(total / 1500);
  return {
    kind: "what fails",
    definition: definition("what fails", wholeScope),
    provenance,
    scope: wholeScope,
    failureDefinition: {
      modes: truths.map(([item, mode, announces]) => ({
        item,
        mode,
        threshold: 3,
        announces,
        restoredBy: mode === "back-off" || mode === "shoulder leak" ? "made up" : "renewed",
        leadsTo: mode === "extrusion" ? "leak" : null,
      })),
      statements: ["A rebuild here renews the main seal and the stack; joints only where the threads are new."],
      clock: "operating hours",
      hoursKind: "circulating",
    },
    tools: 34,
    runs: Math.round(total / 52),
    toolFailures,
    toolFailureRate: rateOf(toolFailures, total),
    hours: { total, used: total - 412, unused: [{ reason: "run without build", hours: 412, runs: 9 }] },
    modes: modes.sort((p, q) => (q.rate.value ?? 0) - (p.rate.value ?? 0)),
    periods: halves.map((half, index) => {
      const [year, part] = half.split("-");
      const cells = truths.map(([item, mode], row) => ({
        item,
        mode,
        ...(counts[row]?.[index] ?? { failures: 0, hours: 0 }),
      }));
      const failures = cells.reduce((sum, cell) => sum + cell.failures, 0);
      const hours = hoursRun[index] ?? 0;
      return {
        from: `${year}-${part === "1" ? "01-01" : "07-01"}`,
        to: `${year}-${part === "1" ? "06-30" : "12-31"}`,
        label: `${year} ${part === "1" ? "Jan-Jun" : "Jul-Dec"}`,
        failures,
        hours,
        rate: rateOf(failures, hours),
        byMode: cells.map(({ item, mode, failures: count, hours: seen }) => ({
          item,
          mode,
          failures: count,
          hours: seen,
          rate: rateOf(count, seen),
        })),
      };
    }),
    drawing: [
      {
        toolType,
        items: items.map((row) => {
          const own = modes.filter((mode) => mode.item === row.item);
          const failures = own.reduce((sum, mode) => sum + mode.failures, 0);
          return {
            item: row.item,
            kind: row.kind,
            position: row.position ?? null,
            failures,
            shrunkenRate: own.length > 0 ? own.reduce((sum, mode) => sum + mode.shrunkenRate, 0) : null,
            few: failures < 5,
          };
        }),
      },
    ],
    toolEvents: [
      { serial: "AD650-012", event: "lost in hole", on: dateOn(611), age: 842, run: "RUN-1490" },
      { serial: "AD650-027", event: "tool failure, cause masked", on: dateOn(934), age: [610, 702], run: "RUN-2211" },
    ],
    buildRejects: 6,
    notices: [
      { code: "linked-modes", facts: { item: "main seal", mode: "extrusion", leadsTo: "leak" } },
      { code: "invented-data", facts: { cutoff } },
    ],
  };
}
