/** Runs in the worker: one question at a time, on records kept from earlier questions. */
import { AnalysisError, type DerivedLives, deriveLives, type Records, runStudy } from "../../analysis/index.ts";
import { livesPage } from "./livesPage.ts";
import { RecentlyUsed } from "./recentlyUsed.ts";
import type { Answer, Task } from "./tasks.ts";

// Two data hashes: a batch may be stored while questions about the former data still wait.
const recordsByHash = new RecentlyUsed<Records>(2);
const livesByDefinition = new RecentlyUsed<DerivedLives>(4);

export default function answer({ question, data }: Task): Answer {
  if (data.records !== null) recordsByHash.set(data.dataHash, data.records);
  const records = recordsByHash.get(data.dataHash);
  if (records === undefined) return { kind: "records wanted" };
  try {
    if (question.kind === "study") {
      const { dataHash, statements, sample } = data;
      return { kind: "study", result: runStudy(question.definition, records, { dataHash, statements, sample }) };
    }
    const { cutoff, thresholds, refittedMeansSound, hoursKind, scope } = question.definition;
    const derivation = { cutoff, thresholds, refittedMeansSound, hoursKind };
    const key = JSON.stringify([data.dataHash, derivation]);
    const derived = livesByDefinition.get(key) ?? deriveLives(records, derivation);
    livesByDefinition.set(key, derived);
    return { kind: "lives", page: livesPage(derived.lives, records, scope, question.page) };
  } catch (error) {
    if (error instanceof AnalysisError) return { kind: "refused", code: error.code, facts: error.facts };
    throw error;
  }
}
