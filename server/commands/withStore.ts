import { sayStorageNotice } from "../../analysis/index.ts";
import { openStore } from "../storage/openStore.ts";
import type { Store } from "../storage/store.ts";
import { storePlace, type Terminal } from "./command.ts";

/** Opens the store, says what opening mended, and gives the data folder back whatever happens. */
export async function withStore<T>(
  data: string | undefined,
  terminal: Terminal,
  work: (store: Store) => Promise<T>,
): Promise<T> {
  const store = await openStore(storePlace(data, terminal));
  try {
    for (const notice of store.opening) terminal.err(sayStorageNotice(notice.code, notice.facts));
    return await work(store);
  } finally {
    await store.close();
  }
}
