import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import type { DropReading } from "../../analysis/index.ts";
import { mapping as mappingContract, vocabularies } from "../contracts/records.ts";
import { z } from "../contracts/zod.ts";
import { parseBody } from "../routes/parse.ts";
import { RequestError } from "../routes/requestError.ts";
import type { Store } from "../storage/store.ts";
import type { DroppedFile } from "./draft.ts";
import { type BroughtAlong, readDrop } from "./readDrop.ts";

const sheetEnding = /\.(csv|tsv|txt|xlsx|xlsm)$/i;

/** The sheets of a folder, by name; other files and folders in it are left alone. */
export async function filesOfFolder(folder: string): Promise<readonly DroppedFile[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isFile() && sheetEnding.test(entry.name)).map(({ name }) => name);
  return Promise.all(
    names.sort().map(async (file) => ({ file, bytes: new Uint8Array(await readFile(join(folder, file))) })),
  );
}

/**
 * Mappings and words of a folder: each `*.json` is one mapping, except `words.json`, which holds the vocabularies.
 * `words.json` may also stand beside the folder.
 *
 * Errors  "bad-body" naming the file and the place in it.
 */
export async function mappingsOfFolder(folder: string): Promise<BroughtAlong> {
  const names = (await readdir(folder)).filter((name) => name.endsWith(".json")).sort();
  const mappings = await Promise.all(
    names.filter((name) => name !== "words.json").map((name) => readJson(join(folder, name), mappingContract)),
  );
  const words = await wordsOf([join(folder, "words.json"), join(folder, "..", "words.json")]);
  return { mappings, words };
}

const wordsContract = z.union([z.strictObject({ version: z.int().optional(), vocabularies }), vocabularies]);

async function wordsOf(places: readonly string[]): Promise<BroughtAlong["words"]> {
  for (const place of places) {
    try {
      const words = await readJson(place, wordsContract);
      return "vocabularies" in words ? words.vocabularies : words;
    } catch (error) {
      if (!isMissing(error)) throw error;
    }
  }
  return {};
}

const isMissing = (error: unknown): boolean => error instanceof Error && "code" in error && error.code === "ENOENT";

async function readJson<S extends z.ZodType>(path: string, contract: S) {
  const text = await readFile(path, "utf8");
  try {
    const body: unknown = JSON.parse(text);
    return parseBody(contract, body);
  } catch (error) {
    if (error instanceof RequestError)
      throw new RequestError("bad-body", { ...error.facts, place: `${path}: ${error.facts.place}` });
    throw new RequestError("bad-body", { place: path, problem: "it is not JSON" });
  }
}

export interface AcceptedReading {
  readonly reading: DropReading;
  /** Confirmations that were accepted as proposed, in the order they came up. */
  readonly accepted: DropReading["confirmations"];
}

/** Reads a drop and, if asked, accepts each proposal; accepting one may bring up the next. */
export async function readAccepting(
  files: readonly DroppedFile[],
  broughtAlong: BroughtAlong,
  store: Store,
  accept: boolean,
): Promise<AcceptedReading> {
  let reading = await readDrop(files, {}, store, broughtAlong);
  const accepted = new Map<string, DropReading["confirmations"][number]>();
  while (accept) {
    const open = reading.confirmations.filter(({ id, answered }) => !answered && !accepted.has(id));
    if (open.length === 0) break;
    for (const confirmation of open) accepted.set(confirmation.id, confirmation);
    reading = await readDrop(files, { confirm: [...accepted.keys()] }, store, broughtAlong);
  }
  return { reading, accepted: [...accepted.values()] };
}
