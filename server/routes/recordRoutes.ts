import { Router } from "express";
import {
  engineVersion,
  type FieldDescriptor,
  headersOf,
  type RowHistoryReply,
  type RowRef,
  type RowsReply,
  type StateReply,
  type StoredBatch,
  sayProblem,
  type TableName,
  tableDescriptors,
  tableNames,
} from "../../analysis/index.ts";
import { rowHistoryQuery, rowsQuery } from "../contracts/questions.ts";
import type { SetAsideLine, Store } from "../storage/store.ts";
import type { ShopData } from "../work/shopData.ts";
import { parseQuery } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { type CsvTable, sendCsv } from "./sendCsv.ts";

export interface RecordRoutesOptions {
  readonly store: Store;
  readonly data: ShopData;
}

/** What is stored: counts, rows traceable to their sheets, batches and the lines set aside. */
export function recordRoutes({ store, data }: RecordRoutesOptions): Router {
  const router = Router();

  router.get("/state", async (_request, response) => {
    const [{ dataHash, sample }, choices, openQuestions, rows, batches] = await Promise.all([
      data.current(),
      data.choices(),
      data.openQuestions(),
      store.rowCounts(),
      store.batches(),
    ]);
    const setAside = batches.reduce((sum, batch) => sum + batch.counts.setAside, 0);
    const reply: StateReply = {
      engineVersion,
      dataHash,
      rows,
      batches: batches.length,
      setAside,
      sample,
      openQuestions,
      choices,
    };
    response.json(reply);
  });

  router.get("/rows", async (request, response) => {
    const refs = parseQuery(rowsQuery, request.query).ref.map(rowRefOf);
    const [stored, mappings] = await Promise.all([store.rowsByRef(refs), store.rememberedMappings()]);
    const rows = stored.map((row) => ({ ...row, writtenUnder: headersOf(row, mappings) }));
    const found = new Set(rows.map((row) => `${row.table}:${row.key}`));
    const missing = refs.filter((ref) => !found.has(`${ref.table}:${ref.key}`));
    const reply: RowsReply = { rows, missing };
    response.json(reply);
  });

  router.get("/rows/history", async (request, response) => {
    const { ref, field = null } = parseQuery(rowHistoryQuery, request.query);
    const row = rowRefOf(ref);
    const fields: readonly FieldDescriptor[] = tableDescriptors[row.table].fields;
    if (field !== null && !fields.some(({ name }) => name === field))
      throw new RequestError("bad-parameter", { parameter: "field", value: field, expected: "field name" });
    const steps = await store.cellHistory(row, field);
    if (steps.length === 0) throw new RequestError("row-not-found", { table: row.table, key: row.key.slice(0, 200) });
    const reply: RowHistoryReply = { row, field, steps };
    response.json(reply);
  });

  router.get("/batches", async (_request, response) => {
    response.json(await store.batches());
  });

  router.get("/batches/:id", async (request, response) => {
    const batch = await batchOf(store, request.params.id);
    const [problems, setAsideLines] = await Promise.all([store.problems(batch.batch), store.setAside(batch.batch)]);
    response.json({ ...batch, problems, setAsideLines });
  });

  router.get("/batches/:id/set-aside.csv", async (request, response) => {
    const { batch } = await batchOf(store, request.params.id);
    sendCsv(response, `set-aside-${batch}`, setAsideTable(await store.setAside(batch)));
  });

  return router;
}

async function batchOf(store: Store, id: string): Promise<StoredBatch> {
  const batch = (await store.batches()).find((stored) => String(stored.batch) === id);
  if (batch === undefined) throw new RequestError("batch-not-found", { batch: id.slice(0, 40) });
  return batch;
}

/** `table:key`, where key is the JSON array that `keyOf` makes. */
function rowRefOf(written: string): RowRef {
  const colon = written.indexOf(":");
  const table = written.slice(0, colon);
  const key = written.slice(colon + 1);
  if (!isTable(table) || !isKey(key))
    throw new RequestError("bad-parameter", {
      parameter: "ref",
      value: written.slice(0, 200),
      expected: "row reference",
    });
  return { table, key };
}

const isTable = (name: string): name is TableName => tableNames.some((table) => table === name);

function isKey(text: string): boolean {
  try {
    const parts: unknown = JSON.parse(text);
    return Array.isArray(parts) && parts.length > 0;
  } catch {
    return false;
  }
}

function setAsideTable(lines: readonly SetAsideLine[]): CsvTable {
  const width = Math.max(0, ...lines.map((line) => line.cells.length));
  return {
    headers: [
      "file",
      "sheet",
      "line",
      "what is wrong",
      ...Array.from({ length: width }, (_, index) => `cell ${index + 1}`),
    ],
    rows: lines.map(({ origin, cells, problems }) => [
      origin.file,
      origin.sheet,
      origin.line,
      problems.map((problem) => sayProblem(problem)).join(" "),
      ...cells,
    ]),
  };
}
