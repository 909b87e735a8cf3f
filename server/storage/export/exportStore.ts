import { type FieldDescriptor, sayProblem, tableDescriptors, tableNames } from "../../../analysis/index.ts";
import { sha256 } from "../canonicalJson.ts";
import type { Store } from "../store.ts";
import {
  answerFields,
  batchFields,
  type ExportedTable,
  originFields,
  resourceOf,
  setAsideFields,
} from "./descriptors.ts";
import { exportLine } from "./exportCells.ts";

export interface ExportedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface StoreExport {
  readonly files: readonly ExportedFile[];
  readonly rows: number;
  readonly valueHashes: Awaited<ReturnType<Store["valueHashes"]>>;
}

export const packageName = "afterrun-export";
export const packageFile = "datapackage.json";

/**
 * Everything that is stored as CSV files with a descriptor: the canonical tables with where each row came from, what was
 * decided about them, batches, lines set aside, mappings and words. The bytes of the sheets as dropped are in a backup.
 * All of one moment: nothing is written meanwhile.
 */
export function exportStore(store: Store, madeAt: string): Promise<StoreExport> {
  return store.whileStill(async () => {
    const [valueHashes, { dataHash }] = [await store.valueHashes(), await store.loadRecords()];
    const files: ExportedFile[] = [];
    const resources: object[] = [];
    let rows = 0;
    const add = (table: ExportedTable, more: Readonly<Record<string, unknown>> = {}) => {
      const lines = [exportLine(table.fields.map(({ name }) => name)), ...table.rows.map(exportLine)];
      // The byte order mark makes spreadsheets read it as UTF-8.
      const bytes = Buffer.from(`\uFEFF${lines.join("")}`);
      const counts = { bytes: bytes.length, hash: `sha256:${sha256(bytes)}`, rowCount: table.rows.length };
      files.push({ name: `${table.name}.csv`, bytes });
      resources.push(resourceOf(table, { ...counts, ...more }));
    };

    for (const name of tableNames) {
      const table = await canonicalTable(store, name);
      rows += table.rows.length;
      add(table, { valuesHash: valueHashes[name] });
    }
    for (const table of [await answersTable(store), await batchesTable(store), await setAsideTable(store)]) add(table);
    for (const [index, mapping] of (await store.rememberedMappings()).entries()) {
      files.push(json(`mappings/${String(index + 1).padStart(3, "0")}.json`, mapping));
    }
    files.push(json("words.json", (await store.words()).vocabularies));
    const descriptor = {
      profile: "tabular-data-package",
      name: packageName,
      afterrunExport: 1,
      title: "Everything stored: records, decisions, batches",
      description:
        "SI units except inches, hours and Shore A. An empty cell means: not written down. A text that begins with an apostrophe had it put before, so that no spreadsheet runs it as a formula: the first apostrophe is not part of the text. The mappings and words of the shop's own sheets are in the JSON files beside.",
      created: madeAt,
      dataHash,
      resources,
    };
    files.push(json(packageFile, descriptor));
    return { files, rows, valueHashes };
  });
}

const json = (name: string, value: unknown): ExportedFile => ({
  name,
  bytes: Buffer.from(`${JSON.stringify(value, null, 2)}\n`),
});

async function canonicalTable(store: Store, name: (typeof tableNames)[number]): Promise<ExportedTable> {
  const { title, description, fields, primaryKey, foreignKeys }: Omit<ExportedTable, "name" | "rows"> =
    tableDescriptors[name];
  const rows = await store.rowsOf(name);
  return {
    name,
    title,
    description,
    fields: [...fields, ...originFields],
    ...(primaryKey === undefined ? {} : { primaryKey }),
    ...(foreignKeys === undefined ? {} : { foreignKeys }),
    rows: rows.map(({ values, origin, batch, asWritten }) => [
      ...fields.map((field: FieldDescriptor) => values[field.name] ?? null),
      origin.file,
      origin.sheet,
      origin.line,
      batch,
      JSON.stringify(asWritten),
    ]),
  };
}

async function answersTable(store: Store): Promise<ExportedTable> {
  const answers = await store.answers();
  return {
    name: "answers",
    title: "Decisions about cells and rows",
    description: "What was accepted, corrected or excluded, by whom, when and why. The tables hold the sheets' values.",
    fields: answerFields,
    rows: answers.map(({ table, key, column, was, becomes, verdict, rule, who, when, why }) => [
      table,
      key,
      column,
      JSON.stringify(was),
      JSON.stringify(becomes),
      verdict,
      rule,
      who,
      when,
      why,
    ]),
  };
}

async function batchesTable(store: Store): Promise<ExportedTable> {
  const batches = await store.batches();
  return {
    name: "batches",
    title: "Batches",
    description: "What was stored together, and what was taken back.",
    fields: batchFields,
    primaryKey: ["batch"],
    rows: batches.map(({ batch, storedAt, who, why, undoes, counts, files }) => [
      batch,
      storedAt,
      who,
      why ?? null,
      undoes ?? null,
      counts.lines,
      counts.new,
      counts.unchanged,
      counts.changed,
      counts.setAside,
      JSON.stringify(files.map(({ file, sha256: hash, bytes }) => ({ file, sha256: hash, bytes }))),
    ]),
  };
}

async function setAsideTable(store: Store): Promise<ExportedTable> {
  const rows: unknown[][] = [];
  for (const { batch } of await store.batches()) {
    for (const { origin, cells, problems } of await store.setAside(batch)) {
      const why = problems.map((problem) => sayProblem(problem)).join(" ");
      rows.push([batch, origin.file, origin.sheet, origin.line, why, JSON.stringify(cells)]);
    }
  }
  return {
    name: "set_aside",
    title: "Lines set aside",
    description: "Lines that could not be stored, as written, with why.",
    fields: setAsideFields,
    rows,
  };
}
