import { exactRate } from "../estimation/exactRate.ts";
import { chiSquareUpperTail } from "../numerics/index.ts";
import type { ScopedData } from "./scopedData.ts";
import type { GuardEvidence } from "./types.ts";

type Stratum = GuardEvidence["strata"][number];

/**
 * Runs that the tool ended, by what may make tools unlike: type, size, mud, customer. The p-value is that of "all groups fail
 * at one rate", by likelihood ratio: G = 2 sum r ln(r / expected), chi-square with groups - 1 degrees of freedom.
 *
 * Conventions  Runs that do not say are left out of that grouping. Fewer than 2 groups: the grouping is not listed.
 * Source       Cox & Lewis (1966), The Statistical Analysis of Series of Events, 9.3.
 */
export function strataOf({ runs, data, study }: ScopedData): readonly Stratum[] {
  const tools = new Map((data.records.tools ?? []).map((tool) => [tool.serial, tool]));
  const groupings: readonly (readonly [Stratum["by"], (run: ScopedData["runs"][number]) => string | null])[] = [
    ["tool type", ({ run }) => tools.get(run.serial)?.tool_type ?? null],
    ["size", ({ run }) => sizeName(tools.get(run.serial)?.size_in)],
    ["mud", ({ run }) => run.mud ?? null],
    ["customer", ({ run }) => run.customer ?? null],
  ];
  return groupings.flatMap(([by, nameOf]): Stratum[] => {
    const sums = new Map<string, { failures: number; hours: number }>();
    for (const one of runs) {
      const name = nameOf(one);
      if (name === null) continue;
      const sum = sums.get(name) ?? { failures: 0, hours: 0 };
      sums.set(name, { failures: sum.failures + (one.failed ? 1 : 0), hours: sum.hours + one.hours });
    }
    const groups = [...sums].filter(([, { hours }]) => hours > 0);
    if (groups.length < 2) return [];
    const total = groups.reduce((sum, [, one]) => sum + one.failures, 0);
    const hours = groups.reduce((sum, [, one]) => sum + one.hours, 0);
    const statistic = groups.reduce((sum, [, one]) => {
      const expected = (total * one.hours) / hours;
      return sum + (one.failures === 0 ? 0 : 2 * one.failures * Math.log(one.failures / expected));
    }, 0);
    return [
      {
        by,
        pValue: total === 0 ? 1 : chiSquareUpperTail(Math.max(0, statistic), groups.length - 1),
        groups: groups
          .map(([name, one]) => ({ name, ...one, rate: exactRate({ ...one, confidence: study.confidence }) }))
          .sort((a, b) => (b.rate.value ?? 0) - (a.rate.value ?? 0) || (a.name < b.name ? -1 : 1)),
      },
    ];
  });
}

const sizeName = (size: number | null | undefined): string | null => (size == null ? null : `${size} in`);
