import { tableNames } from "../../analysis/index.ts";
import { mergeVocabularies } from "../intake/draft.ts";
import { readExport } from "../storage/export/readExport.ts";
import type { Store } from "../storage/store.ts";
import type { Terminal } from "./command.ts";

/** Takes an exported folder back in: its tables as one batch, then the decisions about them; says whether all is equal. */
export async function importExport(folder: string, who: string, store: Store, terminal: Terminal): Promise<0 | 1> {
  const { batch, answers, dataHash, valueHashes, changed } = await readExport(folder);
  for (const file of changed) terminal.out(`${file} is not as it was exported; it is read as it is now.`);
  const when = terminal.clock().toISOString();
  const words = await store.words();
  const vocabularies = mergeVocabularies(batch.words.vocabularies, words.vocabularies);
  const stored = await store.storeBatch({ ...batch, who, when, words: { ...words, vocabularies } });
  const brought = await store.bringAnswers(answers, who, when);
  const { lines, new: fresh, unchanged, changed: edited, setAside } = stored.counts;
  terminal.out(
    `Stored as batch ${stored.batch}: ${lines} rows: ${fresh} new, ${unchanged} unchanged, ${edited} changed, ${setAside} set aside; ${brought} decisions about them.`,
  );
  const now = await store.valueHashes();
  for (const table of tableNames) {
    const said = valueHashes[table] === now[table] ? "equal to the export" : "differs from the export";
    terminal.out(`${table}: ${now[table]} ${said}`);
  }
  const whole = (await store.loadRecords()).dataHash === dataHash;
  terminal.out(
    whole
      ? "All data are equal to those exported."
      : "The data are not those exported alone: what was stored before is still there, or a file was changed.",
  );
  return setAside > 0 ? 1 : 0;
}
