/** Runs in the worker: one question at a time, on records kept from earlier questions. */
import {
  AnalysisError,
  type Answer as AuditAnswer,
  answersEffect,
  composeStatement,
  planStatement,
  type Records,
  runLifePart,
  runStudy,
  scopeChoices,
} from "../../analysis/index.ts";
import { auditPage } from "./auditPage.ts";
import { livesPage } from "./livesPage.ts";
import { RecentlyUsed } from "./recentlyUsed.ts";
import type { Answer, Task } from "./tasks.ts";

// Two data hashes: a batch may be stored while questions about the former data still wait.
const recordsByHash = new RecentlyUsed<{ readonly records: Records; readonly answers: readonly AuditAnswer[] }>(2);

export default function answer({ question, data, progress }: Task): Answer {
  if (data.records !== null) recordsByHash.set(data.dataHash, { records: data.records, answers: data.answers });
  const known = recordsByHash.get(data.dataHash);
  if (known === undefined) return { kind: "records wanted" };
  const { records, answers } = known;
  try {
    if (question.kind === "choices") return { kind: "choices", choices: scopeChoices(records) };
    if (question.kind === "lives")
      return { kind: "lives", page: livesPage(records, answers, question.definition, question.page) };
    if (question.kind === "audit")
      return { kind: "audit", page: auditPage(records, answers, question.derivable, question.page) };
    if (question.kind === "answers preview") {
      const { after, standing, given, derivable } = question;
      const effect = answersEffect(known, { records: after, answers: standing }, given, derivable);
      return { kind: "answers preview", effect };
    }
    const { dataHash, statements, sample, cellTexts } = data;
    const context = { dataHash, answers, statements, sample, cellTexts };
    const report = (share: number, doing: string) => progress?.postMessage({ share, doing });
    if (question.kind === "statement plan") {
      const questions = planStatement(question.definition, records, context, question.previous);
      return { kind: "statement plan", questions };
    }
    if (question.kind === "statement")
      return { kind: "statement", result: composeStatement({ ...question.parts, records, context }) };
    if (question.kind === "part") {
      const { definition, part } = question;
      const onShare = (share: number) => report(share, "");
      return { kind: "part", part: runLifePart(definition, part, records, { ...context, onShare }) };
    }
    return { kind: "study", result: runStudy(question.definition, records, context, report) };
  } catch (error) {
    if (error instanceof AnalysisError) return { kind: "refused", code: error.code, facts: error.facts };
    throw error;
  }
}
