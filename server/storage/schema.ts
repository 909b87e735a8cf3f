/**
 * The tables of the store, for both PostgreSQL engines. The canonical ones follow `tableDescriptors`, so a field added
 * there becomes a column by `npm run migrations`. Only SQL that PostgreSQL 15 knows.
 *
 * No foreign keys between canonical tables: a run without a build is a finding of the audit, not an error of storage.
 */
import { bigint, boolean, date, doublePrecision, integer, json, pgTable, primaryKey, text } from "drizzle-orm/pg-core";
import { type FieldDescriptor, type TableName, tableDescriptors } from "../../analysis/index.ts";

/** Where a canonical row came from. `json`, not `jsonb`, keeps the cells in the order of the sheet. */
const provenance = () => ({
  key: text("key").primaryKey(),
  as_written: json("as_written").$type<Readonly<Record<string, string>>>().notNull(),
  source_file: text("source_file").notNull(),
  sheet: text("sheet"),
  line: integer("line").notNull(),
  /** The row follows from an answered question and stands in no sheet. */
  added: boolean("added").notNull(),
  batch: integer("batch")
    .notNull()
    .references(() => batches.batch),
});

function column(field: FieldDescriptor) {
  switch (field.type) {
    case "string":
      return text(field.name);
    case "number":
      return doublePrecision(field.name);
    case "integer":
      return bigint(field.name, { mode: "number" });
    case "boolean":
      return boolean(field.name);
    case "date":
      return date(field.name, { mode: "string" });
    case "array":
      return text(field.name).array();
  }
}

/** The columns stay nullable: what must be present is the descriptor's rule, checked where it can be explained. */
function canonicalTable(name: TableName) {
  const fields: readonly FieldDescriptor[] = tableDescriptors[name].fields;
  return pgTable(name, {
    ...provenance(),
    ...Object.fromEntries(fields.map((field) => [field.name, column(field)])),
  });
}

/** The last journal entry the tables hold, in one row. */
export const storeState = pgTable("store_state", {
  id: integer("id").primaryKey(),
  journal: text("journal").notNull(),
  sequence: integer("sequence").notNull(),
  hash: text("hash").notNull(),
  /** What the tables keep; where it is older than `keptVersion` they are made again from the journal. */
  keeps: integer("keeps").notNull().default(1),
});

export const batches = pgTable("batches", {
  batch: integer("batch").primaryKey(),
  stored_at: text("stored_at").notNull(),
  who: text("who").notNull(),
  words_version: integer("words_version").notNull(),
  lines: integer("lines").notNull(),
  new: integer("new").notNull(),
  unchanged: integer("unchanged").notNull(),
  changed: integer("changed").notNull(),
  set_aside: integer("set_aside").notNull(),
  data_hash: text("data_hash").notNull(),
  /** The batch that this one takes back; null for a drop. */
  undoes: integer("undoes"),
  /** What was said for it. */
  why: text("why"),
});

export const sourceFiles = pgTable(
  "source_files",
  {
    batch: integer("batch")
      .notNull()
      .references(() => batches.batch),
    position: integer("position").notNull(),
    file: text("file").notNull(),
    sha256: text("sha256").notNull(),
    bytes: bigint("bytes", { mode: "number" }).notNull(),
    lines: integer("lines").notNull(),
    new: integer("new").notNull(),
    unchanged: integer("unchanged").notNull(),
    changed: integer("changed").notNull(),
    set_aside: integer("set_aside").notNull(),
  },
  (table) => [primaryKey({ columns: [table.batch, table.position] })],
);

export const setAside = pgTable(
  "set_aside",
  {
    batch: integer("batch")
      .notNull()
      .references(() => batches.batch),
    position: integer("position").notNull(),
    file: text("file").notNull(),
    sheet: text("sheet"),
    line: integer("line").notNull(),
    cells: json("cells").$type<readonly string[]>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.batch, table.position] })],
);

export const problems = pgTable(
  "problems",
  {
    batch: integer("batch")
      .notNull()
      .references(() => batches.batch),
    position: integer("position").notNull(),
    /** Position of the line set aside; null where the line was kept. */
    set_aside: integer("set_aside"),
    code: text("code").notNull(),
    severity: text("severity").notNull(),
    file: text("file").notNull(),
    sheet: text("sheet"),
    line: integer("line").notNull(),
    column: text("column"),
    value: text("value"),
    facts: json("facts").$type<Readonly<Record<string, string | number | null>>>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.batch, table.position] })],
);

export const mappings = pgTable(
  "mappings",
  {
    fingerprint: text("fingerprint").notNull(),
    version: integer("version").notNull(),
    batch: integer("batch")
      .notNull()
      .references(() => batches.batch),
    mapping: json("mapping").notNull(),
  },
  (table) => [primaryKey({ columns: [table.fingerprint, table.version] })],
);

export const wordLists = pgTable("word_lists", {
  version: integer("version").primaryKey(),
  batch: integer("batch")
    .notNull()
    .references(() => batches.batch),
  words: json("words").notNull(),
});

export const setupRows = pgTable(
  "setup_rows",
  {
    batch: integer("batch")
      .notNull()
      .references(() => batches.batch),
    position: integer("position").notNull(),
    table_name: text("table_name").notNull(),
    values: json("values").notNull(),
    why: text("why").notNull(),
  },
  (table) => [primaryKey({ columns: [table.batch, table.position] })],
);

/**
 * Every version of a canonical row that was replaced or taken out, under the batch that did so: what an undo puts back.
 * A drop that brings a new row leaves no line here; an undo leaves one for each row it moves.
 */
export const rowHistory = pgTable(
  "row_history",
  {
    changed_by: integer("changed_by")
      .notNull()
      .references(() => batches.batch),
    table_name: text("table_name").notNull(),
    key: text("key").notNull(),
    /** Batch that wrote the version before, and that of the version after; null where there was or is no row. */
    was_batch: integer("was_batch"),
    became_batch: integer("became_batch"),
    /** The version before, with its cells and place; null where there was no row. */
    was: json("was"),
  },
  (table) => [primaryKey({ columns: [table.changed_by, table.table_name, table.key] })],
);

/** What somebody decided about a cell or row, in the order decided. `json` keeps the type of a value. */
export const answers = pgTable("answers", {
  answer: integer("answer").primaryKey(),
  table_name: text("table_name").notNull(),
  key: text("key").notNull(),
  column: text("column"),
  was: json("was"),
  becomes: json("becomes"),
  verdict: text("verdict").notNull(),
  rule: text("rule"),
  who: text("who").notNull(),
  decided_at: text("decided_at").notNull(),
  why: text("why").notNull(),
});

// drizzle-kit finds tables among a module's exports only, hence one name each.
export const toolItems = canonicalTable("tool_items");
export const modes = canonicalTable("modes");
export const compounds = canonicalTable("compounds");
export const tools = canonicalTable("tools");
export const redresses = canonicalTable("redresses");
export const joints = canonicalTable("joints");
export const fittedItems = canonicalTable("fitted_items");
export const runs = canonicalTable("runs");
export const teardowns = canonicalTable("teardowns");
export const findings = canonicalTable("findings");
export const plannedRuns = canonicalTable("planned_runs");
export const stock = canonicalTable("stock");
export const costs = canonicalTable("costs");
export const decisions = canonicalTable("decisions");
