import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import { failuresNeeded } from "../../practice/screen/failuresNeeded.ts";
import type { ShopData } from "../shopData.ts";
import type { Scope, StudyDefinition } from "../types.ts";
import type { Compared } from "./comparePractice.ts";
import type { Contrast } from "./contrasts.ts";
import type { ModeTable } from "./modeTable.ts";
import type { Settling } from "./types.ts";

const POWER = 0.8;
/** Found in a trial: a life cut to two thirds. A smaller difference rarely pays for one. Common practice, no source. */
const MULTIPLIER = 2 / 3;

/** What would settle a comparison: failures and runs going on as now, and where serials alternate; with the plan. */
export function settling(
  table: ModeTable,
  contrast: Contrast,
  compared: Compared,
  data: ShopData,
  { seed, scope }: StudyDefinition,
): Settling | null {
  const spread = compared.adjusted?.spread ?? compared.unadjusted?.spread ?? null;
  if (spread === null || table.failures === 0) return null;
  const step = contrast.at - contrast.against;
  const ask = { multiplier: MULTIPLIER, spread, power: POWER };
  const { shareLeft } = compared.entanglement;
  const now =
    shareLeft < 1e-3
      ? null
      : failuresNeeded({ ...ask, variance: weightedVariance(table, contrast) / step ** 2, shareLeft });
  const alternating = Math.ceil(failuresNeeded({ ...ask, variance: 0.25 }));
  const runs = new Set(contrast.rows.flatMap((row) => table.rows[row]!.life.runs.map((run) => run.row.key))).size;
  const runsFor = (failures: number) => Math.ceil((failures * runs) / Math.max(1, compared.failures));
  const more = now === null ? 0 : Math.max(0, Math.ceil(now) - compared.failures);
  return {
    multiplier: MULTIPLIER,
    power: POWER,
    asNow: now === null || !Number.isFinite(now) ? null : { failures: Math.ceil(now), more, runs: runsFor(more) },
    alternating: { failures: alternating, runs: runsFor(alternating) },
    plan: alternatingPlan(table, data, scope, seed),
  };
}

function weightedVariance(table: ModeTable, { rows, values }: Contrast): number {
  const weights = rows.map((row) => Math.max(table.rows[row]!.expected, 1e-9));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = weights.reduce((sum, weight, place) => sum + weight * values[place]!, 0) / total;
  return weights.reduce((sum, weight, place) => sum + weight * (values[place]! - mean) ** 2, 0) / total;
}

/**
 * Serials in service, alternating within tool type and size, so that crew, well and season fall on both sides alike; which one
 * begins is drawn by the study's seed.
 */
function alternatingPlan(table: ModeTable, data: ShopData, scope: Scope, seed: number): Settling["plan"] {
  const withItem = new Set(
    data.items.filter(({ item }) => table.items.includes(item)).map(({ tool_type }) => tool_type),
  );
  const tools = (data.records.tools ?? [])
    .filter(({ status }) => status !== "lost in hole" && status !== "scrapped")
    .filter(
      ({ tool_type, size_in, serial }) =>
        withItem.has(tool_type) &&
        (scope.toolType === null || tool_type === scope.toolType) &&
        (scope.sizeIn === null || size_in === scope.sizeIn) &&
        (scope.serial === null || serial === scope.serial),
    )
    .sort(
      (a, b) =>
        a.tool_type.localeCompare(b.tool_type, "en") ||
        (a.size_in ?? 0) - (b.size_in ?? 0) ||
        a.serial.localeCompare(b.serial, "en", { numeric: true }),
    );
  const stream = randomStream(seed);
  let block = "";
  let isAt = false;
  return tools.map(({ serial, tool_type, size_in }) => {
    const own = `${tool_type} ${size_in}`;
    isAt = own === block ? !isAt : stream.below(2) === 1;
    block = own;
    return { serial, toolType: tool_type, sizeIn: size_in ?? null, first: isAt ? "at" : "against" };
  });
}
