import { type ScopeChoices, scopeChoices } from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";
import { numberCellTexts } from "./numberCellTexts.ts";
import type { StudyData } from "./tasks.ts";

export interface ShopData {
  /** The records as they stand now with the answers applied, read once after each change. */
  current(): Promise<StudyData>;
  choices(): Promise<ScopeChoices>;
  openQuestions(): Promise<readonly string[]>;
  /** To be called when a batch or an answer was stored. */
  changed(): void;
}

/** With more runs lives are derived away from the main thread, which they would hold up for seconds. */
const MANY_RUNS = 10_000;

/**
 * Keeps what every question reads, so that a request does not load the store again.
 *
 * @param sampleName   Marks sample batches.
 * @param choicesAway  The choices of many records, by a worker.
 */
export function shopData(
  store: Store,
  sampleName: string | undefined,
  choicesAway?: (data: StudyData) => Promise<ScopeChoices>,
): ShopData {
  let data: Promise<StudyData> | null = null;
  let choices: Promise<ScopeChoices> | null = null;
  let questions: Promise<readonly string[]> | null = null;

  /** A failed read is not kept: the next request tries again. */
  function kept<T>(reading: Promise<T>, forget: () => void): Promise<T> {
    reading.catch(forget);
    return reading;
  }

  async function load(): Promise<StudyData> {
    const [{ records, answers, superseded, dataHash }, statements, batches, cellTexts] = await Promise.all([
      store.loadShop(),
      store.statements(),
      store.batches(),
      numberCellTexts(store),
    ]);
    const drops = batches.filter((batch) => batch.undoes === undefined);
    const sample = drops.length > 0 && drops.every((batch) => batch.who === sampleName);
    const overruled = new Set(superseded);
    const standing = answers.filter((answer) => !overruled.has(answer));
    return { records, answers: standing, dataHash, statements, sample, cellTexts };
  }

  const current = () => {
    data ??= kept(load(), () => {
      data = null;
    });
    return data;
  };
  return {
    current,
    choices() {
      choices ??= kept(
        current().then((now) =>
          choicesAway !== undefined && (now.records.runs ?? []).length > MANY_RUNS
            ? choicesAway(now)
            : scopeChoices(now.records),
        ),
        () => {
          choices = null;
        },
      );
      return choices;
    },
    openQuestions() {
      questions ??= kept(store.openQuestions(), () => {
        questions = null;
      });
      return questions;
    },
    changed() {
      data = null;
      choices = null;
      questions = null;
    },
  };
}
