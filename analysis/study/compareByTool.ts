import type { RateRatio } from "../estimation/rateRatio.ts";
import { bandsOf, type RatioByTool, ratioByTool } from "../estimation/ratioByTool.ts";
import type { ToolCell } from "../estimation/toolSpread.ts";
import { ageBands, type DatedChange } from "./ageBands.ts";
import { compareRates, type UnjudgedComparison } from "./compareRates.ts";
import type { Exposure, ExposureScope } from "./exposure.ts";
import type { StudyDefinition } from "./types.ts";

/** Where tools are shown to differ, `ratio` and `pValue` are by tool. */
export interface ComparisonByTool extends UnjudgedComparison {
  /** Whether tools fail alike; null where fewer than five ran. */
  readonly spread: RatioByTool["spread"];
  /** Where the bounds are by tool: how many times the variance is, and what every failure for itself would give. */
  readonly byTool: {
    readonly inflation: number;
    readonly exact: Pick<RateRatio, "lower" | "upper" | "pValue">;
  } | null;
}

/** Failures and hours of each tool before and after a change, in a stratum for each band of age; `name` tells modes apart. */
export function toolCells(
  exposures: readonly Exposure[],
  scope: ExposureScope,
  change: DatedChange,
  name: string,
): readonly ToolCell[] {
  const byTool = new Map<string, Exposure[]>();
  for (const exposure of exposures) {
    const own = byTool.get(exposure.life.serial);
    if (own) own.push(exposure);
    else byTool.set(exposure.life.serial, [exposure]);
  }
  return [...byTool].flatMap(([tool, own]) =>
    ageBands(own, scope, change).flatMap((band, place) =>
      (["before", "after"] as const).flatMap((side): ToolCell[] =>
        band[side].hours > 0 ? [{ tool, stratum: JSON.stringify([name, place]), side, ...band[side] }] : [],
      ),
    ),
  );
}

/** Rates before and after within strata, with exact bounds, or wider ones by tool where tools are shown to differ. */
export function compareByTool(
  cells: readonly ToolCell[],
  { confidence, seed }: Pick<StudyDefinition, "confidence" | "seed">,
): ComparisonByTool {
  const { exact, spread, byTool } = ratioByTool(cells, confidence, seed);
  const compared = { ...compareRates([...bandsOf(cells).values()], confidence, exact), spread };
  if (byTool === null) return { ...compared, byTool };
  const { inflation, lower, upper, pValue } = byTool;
  return {
    ...compared,
    ratio: { ...compared.ratio, lower, upper, method: "exact conditional, widened by tool" },
    pValue,
    byTool: { inflation, exact: { lower: exact.lower, upper: exact.upper, pValue: exact.pValue } },
  };
}
