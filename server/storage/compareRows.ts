import { type FieldDescriptor, keyOf, type Row, sameValue, tableDescriptors } from "../../analysis/index.ts";
import { breather } from "./breather.ts";
import { canonicalJson } from "./canonicalJson.ts";
import type { BatchComparison, BatchInput, CellChange } from "./store.ts";
import type { LineCounts, MappedRow, Mapping, Origin, Problem, RowRef, TableName } from "./types.ts";

/** A canonical row as the tables hold it. */
export interface KeptRow extends RowRef {
  readonly values: Readonly<Record<string, unknown>>;
  readonly asWritten: Readonly<Record<string, string>>;
  readonly origin: Origin;
  /** Not written in a sheet: it follows from an answered question, and gives way to a row that is. */
  readonly added: boolean;
}

export interface ComparedRows {
  readonly comparison: BatchComparison;
  /** Rows to insert or replace, whole. */
  readonly writes: readonly KeptRow[];
  /** Rows of the batch that contradict one another; the later one is written, and nobody is left in the dark. */
  readonly problems: readonly Problem[];
}

/** Where a confirmed row comes from that no file holds. */
export const confirmedByHand: Origin = { file: "", sheet: null, line: 0 };

export const placeOf = ({ table, key }: RowRef): string => `${table} ${key}`;

/** Every place a batch touches: what `compareRows` must know of the tables. */
export function placesOf({ setup, sheets }: Pick<BatchInput, "sheets" | "setup">): readonly RowRef[] {
  return [...setup.map(setupRow), ...sheets.flatMap(({ mapped }) => mapped.lines.flatMap(({ rows }) => rows))];
}

/**
 * Tells the rows of a batch apart by key: new, unchanged, changed. It changes nothing, and is the one place that counts,
 * for the preview as for the stored batch. Gives the event loop back now and then.
 *
 * Conventions  A field for which the sheet has no column keeps its stored value; in one that it has, null says that
 *              nothing is written, and replaces it. A line is changed if a row of it is, else new if a row of it is, else
 *              unchanged. A row whose values stay but whose cells as written differ is unchanged, and points to the
 *              newer cells afterwards.
 */
export async function compareRows(
  stored: ReadonlyMap<string, KeptRow>,
  { setup, sheets }: Pick<BatchInput, "sheets" | "setup">,
): Promise<ComparedRows> {
  const breathe = breather();
  const writes = new Map<string, KeptRow>();
  const problems: Problem[] = [];

  const take = (
    row: MappedRow,
    mapped: ReadonlySet<string> | null,
  ): { readonly state: "new" | "unchanged" | "changed"; readonly changes: CellChange[] } => {
    const place = placeOf(row);
    const before = stored.get(place);
    const earlier = writes.get(place);
    const current = earlier ?? before;
    const added = row.added === true;
    if (current !== undefined && added && !current.added) return { state: "unchanged", changes: [] };

    const merged = mergedValues(row, current?.values, mapped);
    if (earlier !== undefined && !earlier.added && earlier.origin !== confirmedByHand) {
      const field = firstDifference(row.table, earlier.values, merged);
      if (field === null) return { state: "unchanged", changes: [] };
      const facts = { table: row.table, key: row.key, firstLine: earlier.origin.line, field };
      problems.push({
        code: "repeated-row-differs",
        severity: "notice",
        origin: row.origin,
        column: null,
        value: null,
        facts,
      });
    }
    const kept = {
      table: row.table,
      key: row.key,
      values: merged,
      asWritten: row.asWritten,
      origin: row.origin,
      added,
    };
    if (before === undefined) {
      writes.set(place, kept);
      return { state: "new", changes: [] };
    }
    const changes = changesOf(before, kept);
    const sameCells = before.added === added && canonicalJson(before.asWritten) === canonicalJson(row.asWritten);
    if (changes.length > 0 || !sameCells || earlier !== undefined) writes.set(place, kept);
    return { state: changes.length > 0 ? "changed" : "unchanged", changes };
  };

  for (const row of setup) take(setupRow(row), null);
  const compared: BatchComparison["sheets"][number][] = [];
  for (const { mapped, mapping } of sheets) {
    const fieldsMapped = mappedFields(mapping);
    const counts = {
      lines: mapped.lines.length + mapped.setAside.length,
      new: 0,
      unchanged: 0,
      changed: 0,
      setAside: mapped.setAside.length,
    };
    const changes: CellChange[] = [];
    const rowsByTable: { [T in TableName]?: number } = {};
    for (const line of mapped.lines) {
      const due = breathe();
      if (due !== undefined) await due;
      const states = line.rows.map((row) => {
        const taken = take(row, fieldsMapped.get(row.table) ?? null);
        changes.push(...taken.changes);
        rowsByTable[row.table] = (rowsByTable[row.table] ?? 0) + 1;
        return taken.state;
      });
      counts[states.includes("changed") ? "changed" : states.includes("new") ? "new" : "unchanged"] += 1;
    }
    compared.push({ file: mapped.file, sheet: mapped.sheet, counts, rowsByTable, changes });
  }
  return {
    comparison: { sheets: compared, counts: sumOfCounts(compared.map(({ counts }) => counts)) },
    writes: [...writes.values()],
    problems,
  };
}

export function sumOfCounts(all: readonly LineCounts[]): LineCounts {
  const sum = (of: (counts: LineCounts) => number) => all.reduce((total, counts) => total + of(counts), 0);
  return {
    lines: sum((counts) => counts.lines),
    new: sum((counts) => counts.new),
    unchanged: sum((counts) => counts.unchanged),
    changed: sum((counts) => counts.changed),
    setAside: sum((counts) => counts.setAside),
  };
}

function setupRow({ table, values }: BatchInput["setup"][number]): MappedRow {
  return { table, key: keyOf(table, values as Row<TableName>), values, asWritten: {}, origin: confirmedByHand };
}

function fieldsOf(table: TableName): readonly FieldDescriptor[] {
  return tableDescriptors[table].fields;
}

/** Every field of the table, null where neither row says anything. */
function mergedValues(
  { table, values }: MappedRow,
  before: Readonly<Record<string, unknown>> | undefined,
  mapped: ReadonlySet<string> | null,
): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    fieldsOf(table).map(({ name }) => {
      const value = values[name];
      // A required word without a column comes as "not known"; it must not wipe out what another sheet knew.
      const open = value === undefined || (mapped?.has(name) === false && (value === null || value === "not known"));
      return [name, (open && before !== undefined ? before[name] : value) ?? null];
    }),
  );
}

/** The fields of each table for which a mapping has a column. */
function mappedFields({ tables, addRows }: Mapping): ReadonlyMap<TableName, ReadonlySet<string>> {
  const fields = new Map<TableName, Set<string>>();
  for (const { table, columns, members = [], list } of [...tables, ...addRows]) {
    const known = fields.get(table) ?? new Set<string>();
    for (const name of [columns, ...members].flatMap((rules) => Object.keys(rules))) known.add(name);
    if (list !== undefined) known.add(list.field);
    fields.set(table, known);
  }
  return fields;
}

function firstDifference(table: TableName, a: KeptRow["values"], b: KeptRow["values"]): string | null {
  return fieldsOf(table).find(({ name }) => !sameValue(a[name], b[name]))?.name ?? null;
}

function changesOf(before: KeptRow, after: KeptRow): CellChange[] {
  return fieldsOf(after.table)
    .filter(({ name }) => !sameValue(before.values[name], after.values[name]))
    .map(({ name }) => ({
      row: { table: after.table, key: after.key },
      field: name,
      was: before.values[name] ?? null,
      becomes: after.values[name] ?? null,
      origin: after.origin,
    }));
}
