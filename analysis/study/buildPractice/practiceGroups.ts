import { quantileSorted } from "simple-statistics";
import { type SettledLife, settleAges } from "../settleAges.ts";
import type { ShopData } from "../shopData.ts";
import { survivalSteps } from "../survivalSteps.ts";
import type { StudyDefinition } from "../types.ts";
import { writtenValue } from "./companions.ts";
import type { Contrast } from "./contrasts.ts";
import type { ModeRow, ModeTable } from "./modeTable.ts";
import type { PracticeGroup } from "./types.ts";

/** Lives side by side by what was done, those without a number or a name in groups of their own. */
export function practiceGroups(
  table: ModeTable,
  contrast: Contrast,
  data: ShopData,
  { missingHours, confidence }: StudyDefinition,
): PracticeGroup[] {
  const { practice, applies } = contrast;
  const rows = applies.map((index) => table.rows[index]!);
  const valueIn = (row: ModeRow) => writtenValue(practice, row.facts.practices[practice.id]);
  const groups = practice.kind === "name" ? byName(rows, valueIn) : byRange(rows, valueIn, edgesOf(contrast));
  const missing = (["written as text", "in doubt", "not written"] as const).flatMap((why) => {
    const own = rows.filter((row) => {
      const fact = row.facts.practices[practice.id];
      return valueIn(row) === null && fact !== undefined && "missing" in fact && fact.missing === why;
    });
    return own.length === 0 ? [] : [{ name: why, from: null, to: null, isWritten: false, rows: own }];
  });
  return [...groups, ...missing].map(({ name, from, to, isWritten, rows: own }): PracticeGroup => {
    const settled = settleAges(
      own.map(({ life }) => life),
      missingHours,
      data.hoursPerDay,
    );
    return {
      name,
      from,
      to,
      isWritten,
      lives: own.length,
      failures: own.filter(({ failed }) => failed).length,
      serials: new Set(own.map(({ life }) => life.serial)).size,
      // The looks at a defect happened because of the failure it leads to: no step curve of it alone.
      steps: table.leadsTo === null ? survivalSteps(settled, confidence).steps : [],
      followedTo: followedTo(settled),
      lifeIds: own.map(({ life }) => life.id),
    };
  });
}

/** Fewer lives than this carry no step curve. Common practice, no source. */
const ENOUGH_FOLLOWED = 10;

function followedTo(settled: readonly SettledLife[]): number {
  const ends = settled.map(({ lower, upper }) => upper ?? lower).sort((a, b) => b - a);
  return ends[ENOUGH_FOLLOWED - 1] ?? 0;
}

interface RawGroup {
  readonly name: string;
  readonly from: number | null;
  readonly to: number | null;
  readonly isWritten: boolean;
  readonly rows: readonly ModeRow[];
}

type Read = (row: ModeRow) => number | string | null;
const MOST_NAMES = 6;

function byName(rows: readonly ModeRow[], valueIn: Read): RawGroup[] {
  const names = new Map<string, ModeRow[]>();
  for (const row of rows) {
    const value = valueIn(row);
    if (value !== null) names.set(String(value), [...(names.get(String(value)) ?? []), row]);
  }
  const sorted = [...names].sort((a, b) => b[1].length - a[1].length || (a[0] < b[0] ? -1 : 1));
  const shown = sorted
    .slice(0, MOST_NAMES)
    .map(([name, own]) => ({ name, from: null, to: null, isWritten: true, rows: own }));
  const others = sorted.slice(MOST_NAMES).flatMap(([, own]) => own);
  return others.length === 0
    ? shown
    : [...shown, { name: "others", from: null, to: null, isWritten: true, rows: others }];
}

function byRange(rows: readonly ModeRow[], valueIn: Read, edges: readonly number[]): RawGroup[] {
  return [Number.NEGATIVE_INFINITY, ...edges].flatMap((from, index) => {
    const to = edges[index] ?? Number.POSITIVE_INFINITY;
    const own = rows.filter((row) => {
      const value = valueIn(row);
      return typeof value === "number" && value >= from && value < to;
    });
    const finite = (value: number) => (Number.isFinite(value) ? value : null);
    return own.length === 0 ? [] : [{ name: "", from: finite(from), to: finite(to), isWritten: true, rows: own }];
  });
}

/** Counts stand one by one; a number that the trade has a target for is cut around it, another one into thirds. */
function edgesOf({ practice, values, at, against }: Contrast): number[] {
  const sorted = Float64Array.from(values).sort();
  const distinct = [...new Set(sorted)];
  if (distinct.length <= 4) return distinct.slice(1);
  if (distinct.every(Number.isInteger) && practice.contrast !== null) return distinct.slice(1, 4);
  if (practice.contrast !== null) {
    const half = (against - at) / 2;
    return [against - half, against + half].sort((a, b) => a - b);
  }
  const list = [...sorted];
  return [...new Set([quantileSorted(list, 1 / 3), quantileSorted(list, 2 / 3)])];
}
