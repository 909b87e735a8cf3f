import { deriveLives } from "../lives/deriveLives.ts";
import { type ItemMode, modesOfItem } from "../lives/episodes.ts";
import type { DerivedLives, Life, RunMark } from "../lives/types.ts";
import type { Answer } from "../records/audit/types.ts";
import type { Records, Row } from "../records/descriptor.ts";
import { contentHash } from "./contentHash.ts";
import { livesDefinition, studyHash } from "./definition.ts";
import { engineVersion } from "./engineVersion.ts";
import type { FailureDefinition, Provenance, Scope, StudyDefinition } from "./types.ts";

/** What every study starts from: the records, the lives in them, and how to find things. */
export interface ShopData {
  readonly records: Records;
  readonly derived: DerivedLives;
  readonly items: readonly Row<"tool_items">[];
  readonly modesOf: (toolType: string, item: string) => readonly ItemMode[];
  readonly runOf: (key: string) => Row<"runs"> | undefined;
  /** Hours of operation per day out, over all runs with written hours; outcome-blind. Null without any. */
  readonly hoursPerDay: number | null;
}

export interface StudyContext {
  readonly dataHash: string;
  /** Given about the records, whose corrections are in them already; without it no doubt counts as settled. */
  readonly answers?: readonly Answer[];
  /** What the shop answered for what its sheets do not say. */
  readonly statements: readonly string[];
  /** Words that stand in cells where a number belongs ("good tight"), by `cellName`. */
  readonly cellTexts?: Readonly<Record<string, string>>;
  /** True where every batch comes from the invented sample fleet. */
  readonly sample: boolean;
  /** Told from 0 to 1 how far a long part is; it changes no answer. */
  readonly onShare?: (share: number) => void;
}

const known = new WeakMap<Records, Map<string, ShopData>>();

/** Derives once for the same records and the same definition of a life. */
export function shopData(records: Records, definition: StudyDefinition): ShopData {
  const byDefinition = known.get(records) ?? new Map<string, ShopData>();
  known.set(records, byDefinition);
  const lives = livesDefinition(definition);
  const name = contentHash(lives);
  const before = byDefinition.get(name);
  if (before) return before;

  const derived = deriveLives(records, lives);
  const items = [...(records.tool_items ?? [])].sort(
    (a, b) => (a.position ?? 1e9) - (b.position ?? 1e9) || (a.item < b.item ? -1 : 1),
  );
  const modes = new Map(
    items.map((item) => [
      `${item.tool_type}\u0000${item.item}`,
      modesOfItem(item, records.modes ?? [], definition.thresholds),
    ]),
  );
  const runs = new Map((records.runs ?? []).map((run) => [JSON.stringify([run.run]), run]));
  const data: ShopData = {
    records,
    derived,
    items,
    modesOf: (toolType, item) => modes.get(`${toolType}\u0000${item}`) ?? [],
    runOf: (key) => runs.get(key),
    hoursPerDay: shopRate(derived.lives),
  };
  byDefinition.set(name, data);
  return data;
}

/** Operating hours per day out over the runs whose hours are known, each run once. */
function shopRate(lives: readonly Life[]): number | null {
  const seen = new Set<string>();
  let [hours, days] = [0, 0];
  for (const { row, outOn, inOn, from, to } of lives.flatMap((life) => life.runs)) {
    if (seen.has(row.key) || inOn === null || typeof from !== "number" || typeof to !== "number") continue;
    seen.add(row.key);
    hours += to - from;
    days += (Date.parse(inOn) - Date.parse(outOn)) / 86_400_000 + 1;
  }
  return days > 0 ? hours / days : null;
}

/** Whether a life, an unused restoration or an exclusion belongs to the scope. Dates are of the restoration. */
export function inScope(
  { toolType, sizeIn, item, mode, serial, serials }: Scope,
  row: {
    readonly toolType: string;
    readonly sizeIn: number | null;
    readonly item: string;
    readonly mode: string;
    readonly serial: string;
  },
): boolean {
  return (
    (toolType === null || row.toolType === toolType) &&
    (sizeIn === null || row.sizeIn === sizeIn) &&
    (item === null || row.item === item) &&
    (mode === null || row.mode === mode) &&
    (serial === null || row.serial === serial) &&
    (serials === undefined || serials.includes(row.serial))
  );
}

/** Customer of a life: of its first run, so that the choice cannot depend on how the life ended. */
export function begunWith(data: ShopData, customer: string | null, runs: readonly Pick<RunMark, "row">[]): boolean {
  return customer === null || (runs[0] !== undefined && data.runOf(runs[0].row.key)?.customer === customer);
}

export const betweenDates = (from: string | null, to: string | null, date: string): boolean =>
  (from === null || date >= from) && (to === null || date <= to);

export function failureDefinition(
  data: ShopData,
  scope: Scope,
  definition: StudyDefinition,
  context: StudyContext,
): FailureDefinition {
  const rows = data.items
    .filter(
      ({ tool_type, item }) =>
        (scope.toolType === null || tool_type === scope.toolType) && (scope.item === null || item === scope.item),
    )
    .flatMap(({ tool_type, item }) => data.modesOf(tool_type, item).map((mode) => ({ item, ...mode })));
  const named = new Map(
    rows
      .filter(({ mode }) => scope.mode === null || mode === scope.mode)
      .map((row) => [`${row.item}\u0000${row.mode}`, row]),
  );
  return {
    modes: [...named.values()].map(({ item, mode, threshold, announces, restoredBy, leadsTo }) => ({
      item,
      mode,
      threshold,
      announces,
      restoredBy,
      leadsTo,
    })),
    statements: context.statements,
    clock: "operating hours",
    hoursKind: definition.hoursKind,
  };
}

export function provenance(data: ShopData, definition: StudyDefinition, { dataHash }: StudyContext): Provenance {
  return { dataHash, studyHash: studyHash(definition), engineVersion, cutoff: data.derived.cutoff };
}
