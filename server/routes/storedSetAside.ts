import type { SheetToRepair } from "../intake/repairSheet.ts";
import type { Store } from "../storage/store.ts";
import type { DropPool } from "../work/dropPool.ts";
import { RequestError } from "./requestError.ts";

export interface StoredSetAsideOptions {
  readonly store: Store;
  readonly pool: DropPool;
  readonly batch: string;
  readonly file: string;
  readonly tab: string | null;
}

/**
 * The lines of a stored sheet that were set aside, under the headers of the file they came in.
 *
 * Errors  "batch-not-found", "sheet-not-found" where the batch holds no such file.
 */
export async function storedSetAside({ store, pool, batch, file, tab }: StoredSetAsideOptions): Promise<SheetToRepair> {
  const stored = (await store.batches()).find((each) => String(each.batch) === batch);
  if (stored === undefined) throw new RequestError("batch-not-found", { batch: batch.slice(0, 40) });
  const from = stored.files.find((each) => each.file === file);
  if (from === undefined) throw new RequestError("sheet-not-found", { file, tab });
  const lines = (await store.setAside(stored.batch)).filter(
    ({ origin }) => origin.file === file && origin.sheet === tab,
  );
  const [bytes, remembered] = await Promise.all([store.fileBytes(from.sha256), store.rememberedMappings()]);
  const found = await pool.headersOf({
    file: { file, bytes },
    tab,
    formats: remembered.map(({ format }) => format),
    lines: lines.map(({ origin, cells }) => ({ line: origin.line, cells })),
  });
  if (found === null) throw new RequestError("sheet-not-found", { file, tab });
  return { ...found, setAside: lines };
}
