import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { type TableName, tableNames } from "../../../analysis/index.ts";
import { answer as answerContract } from "../../contracts/audit.ts";
import { mapping as mappingContract, vocabularies } from "../../contracts/records.ts";
import { z } from "../../contracts/zod.ts";
import { parseBody } from "../../routes/parse.ts";
import { sha256 } from "../canonicalJson.ts";
import { StorageError } from "../storageError.ts";
import type { BatchInput } from "../store.ts";
import type { Answer } from "../types.ts";
import { answerFields } from "./descriptors.ts";
import { unguarded } from "./exportCells.ts";
import { packageFile, packageName } from "./exportStore.ts";
import { exportedRows, exportMapping, readExportedTable } from "./readExportedTable.ts";

const packageContract = z.object({
  name: z.literal(packageName),
  afterrunExport: z.int(),
  dataHash: z.string(),
  resources: z.array(z.object({ path: z.string(), hash: z.string().optional(), valuesHash: z.string().optional() })),
});

export interface ReadExport {
  readonly batch: Pick<BatchInput, "files" | "sheets" | "remember" | "words" | "setup">;
  readonly answers: readonly Answer[];
  readonly dataHash: string;
  readonly valueHashes: { readonly [T in TableName]?: string };
  /** Files that are not as they were exported. */
  readonly changed: readonly string[];
}

/** Whether a folder is an export of this program. */
export async function isExport(folder: string): Promise<boolean> {
  const path = join(folder, packageFile);
  if (!existsSync(path)) return false;
  try {
    const body: unknown = JSON.parse(await readFile(path, "utf8"));
    return typeof body === "object" && body !== null && "name" in body && body.name === packageName;
  } catch {
    return false;
  }
}

/**
 * Reads an exported folder back, ready to be stored as one batch, with the answers to be brought after it.
 *
 * Errors  "bad-batch" for a descriptor that a newer version wrote, or an answer that does not read; "sheet-not-text"
 */
export async function readExport(folder: string): Promise<ReadExport> {
  const body: unknown = JSON.parse(await readFile(join(folder, packageFile), "utf8"));
  const parsed = packageContract.safeParse(body);
  if (!parsed.success || parsed.data.afterrunExport > 1) {
    throw new StorageError("bad-batch", {
      why: `${join(folder, packageFile)} is of a kind that this version does not know`,
    });
  }
  const { resources, dataHash } = parsed.data;
  const hashOf = new Map(resources.map(({ path, hash }) => [path, hash]));
  const changed: string[] = [];
  const read = async (file: string): Promise<Uint8Array | null> => {
    const bytes = await readFile(join(folder, file)).catch((error: NodeJS.ErrnoException) => {
      if (error.code === "ENOENT") return null;
      throw error;
    });
    if (bytes === null) return null;
    if (hashOf.get(file) !== `sha256:${sha256(bytes)}`) changed.push(file);
    return new Uint8Array(bytes);
  };

  const files: BatchInput["files"][number][] = [];
  const sheets: BatchInput["sheets"][number][] = [];
  for (const table of tableNames) {
    const file = `${table}.csv`;
    const bytes = await read(file);
    if (bytes === null) continue;
    const mapping = exportMapping(table, exportedRows(bytes, file).headers);
    files.push({ file, bytes });
    sheets.push({ mapped: readExportedTable(bytes, file, table), mapping, exported: true });
  }
  const answersFile = await read("answers.csv");
  return {
    batch: {
      files,
      sheets,
      remember: await mappingsIn(join(folder, "mappings")),
      words: { version: 1, vocabularies: await wordsIn(join(folder, "words.json")) },
      setup: [],
    },
    answers: answersFile === null ? [] : answersIn(answersFile, "answers.csv"),
    dataHash,
    valueHashes: Object.fromEntries(
      tableNames.flatMap((table) => {
        const hash = resources.find(({ path }) => path === `${table}.csv`)?.valuesHash;
        return hash === undefined ? [] : [[table, hash]];
      }),
    ),
    changed,
  };
}

async function mappingsIn(folder: string): Promise<NonNullable<BatchInput["remember"]>> {
  if (!existsSync(folder)) return [];
  const names = (await readdir(folder)).filter((name) => name.endsWith(".json")).sort();
  return Promise.all(
    names.map(async (name) => {
      const body: unknown = JSON.parse(await readFile(join(folder, name), "utf8"));
      return parseBody(mappingContract, body);
    }),
  );
}

async function wordsIn(path: string) {
  if (!existsSync(path)) return {};
  const body: unknown = JSON.parse(await readFile(path, "utf8"));
  return parseBody(vocabularies, body);
}

function answersIn(bytes: Uint8Array, file: string): readonly Answer[] {
  const { headers, rows } = exportedRows(bytes, file);
  return rows.map(({ line, cells }) => {
    const refuse = (why: string): never => {
      throw new StorageError("bad-batch", { why: `${file}, line ${line}: ${why}` });
    };
    const cellOf = (name: string) => {
      const cell = cells[headers.indexOf(name)] ?? null;
      return cell === null ? null : unguarded(cell);
    };
    const data = (name: string): unknown => {
      try {
        return JSON.parse(cellOf(name) ?? "null");
      } catch {
        return refuse(`"${name}" does not read`);
      }
    };
    const written = Object.fromEntries(
      answerFields.map(({ name }) => [name, name === "was" || name === "becomes" ? data(name) : cellOf(name)]),
    );
    const parsed = answerContract.safeParse(written);
    if (!parsed.success) return refuse(`"${parsed.error.issues[0]?.path.join(".") ?? ""}" does not read`);
    return { ...parsed.data, was: parsed.data.was ?? null, becomes: parsed.data.becomes ?? null };
  });
}
