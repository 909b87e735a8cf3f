/** Runs in the worker: one question at a time, on records kept from earlier questions. */
import { AnalysisError, type Records, runStudy } from "../../analysis/index.ts";
import { livesPage } from "./livesPage.ts";
import { RecentlyUsed } from "./recentlyUsed.ts";
import type { Answer, Task } from "./tasks.ts";

// Two data hashes: a batch may be stored while questions about the former data still wait.
const recordsByHash = new RecentlyUsed<Records>(2);

export default function answer({ question, data }: Task): Answer {
  if (data.records !== null) recordsByHash.set(data.dataHash, data.records);
  const records = recordsByHash.get(data.dataHash);
  if (records === undefined) return { kind: "records wanted" };
  try {
    if (question.kind === "lives")
      return { kind: "lives", page: livesPage(records, question.definition, question.page) };
    const { dataHash, statements, sample } = data;
    return { kind: "study", result: runStudy(question.definition, records, { dataHash, statements, sample }) };
  } catch (error) {
    if (error instanceof AnalysisError) return { kind: "refused", code: error.code, facts: error.facts };
    throw error;
  }
}
