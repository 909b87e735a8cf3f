import { fileURLToPath } from "node:url";
import { MessageChannel } from "node:worker_threads";
import {
  AnalysisError,
  type AnswersEffect,
  contentHash,
  type LifePart,
  type LifePartQuestion,
  type PreviousDefinition,
  type ScopeChoices,
  type StatementDefinition,
  type StatementQuestion,
  type StatementResult,
  type StudyDefinition,
  type StudyProgress,
  type StudyResult,
  studyHash,
} from "../../analysis/index.ts";
import { RequestError } from "../routes/requestError.ts";
import type { StatementFile } from "../statement/writeFile.ts";
import { RecentlyUsed } from "./recentlyUsed.ts";
import { shared } from "./shared.ts";
import type {
  Answer,
  AuditPage,
  AuditPageRequest,
  LivesPage,
  LivesPageRequest,
  Question,
  StatementAnswers,
  StatementFileRequest,
  StudyData,
  Task,
} from "./tasks.ts";
import { type WorkerPool, workerPool } from "./workerPool.ts";

export interface StudyPool {
  /** The answer to a question; the same question of the same data is computed once. */
  study(
    definition: StudyDefinition,
    data: StudyData,
    signal?: AbortSignal,
    onProgress?: (progress: StudyProgress) => void,
  ): Promise<StudyResult>;
  /** A long part of an answer, by a worker of its own, so that first answers never wait for it. */
  part(
    definition: StudyDefinition,
    part: LifePartQuestion,
    data: StudyData,
    signal?: AbortSignal,
    onShare?: (share: number) => void,
  ): Promise<LifePart>;
  /** What there is to ask about in the records, by the worker that no first answer waits for. */
  choices(data: StudyData): Promise<ScopeChoices>;
  lives(definition: StudyDefinition, page: LivesPageRequest, data: StudyData, signal?: AbortSignal): Promise<LivesPage>;
  /** The open doubts about the records, grouped, and one page of them. */
  audit(page: AuditPageRequest, derivable: boolean, data: StudyData, signal?: AbortSignal): Promise<AuditPage>;
  /** What answers would do to the records. */
  answersEffect(
    preview: Omit<Extract<Question, { readonly kind: "answers preview" }>, "kind">,
    data: StudyData,
    signal?: AbortSignal,
  ): Promise<AnswersEffect>;
  /** The questions that a statement rests on. */
  planStatement(
    definition: StatementDefinition,
    previous: PreviousDefinition | null,
    data: StudyData,
    signal?: AbortSignal,
  ): Promise<readonly StatementQuestion[]>;
  /** A statement from the answers to its questions. */
  statement(parts: StatementAnswers, data: StudyData, signal?: AbortSignal): Promise<StatementResult>;
  /** A file of a statement; null where the statement has none of that name. */
  statementFile(request: StatementFileRequest, signal?: AbortSignal): Promise<StatementFile | null>;
  /** Results kept and questions computed so far. */
  readonly counts: { readonly kept: number; readonly computed: number };
  close(): Promise<void>;
}

export interface StudyPoolOptions {
  readonly workers?: number;
  /** A question that takes longer is stopped and answered with "study-too-long". */
  readonly timeoutMs?: number;
  /** The same for a question whose reader sees how far it is, and can stop it. */
  readonly watchedTimeoutMs?: number;
  /** Results kept, most recently used first. */
  readonly keep?: number;
  /** The worker's module; tests bring their own. */
  readonly workerFile?: string;
}

const fileWorker = fileURLToPath(new URL("./statementFileWorker.ts", import.meta.url));
const studyWorker = fileURLToPath(new URL("./studyWorker.ts", import.meta.url));

/**
 * Runs studies away from the main thread, so that every other request keeps being answered. Records are sent to a
 * worker once for each data hash. A question that nobody waits for any longer is stopped, and its worker replaced.
 */
export function createStudyPool({
  workers = 1,
  timeoutMs = 60_000,
  watchedTimeoutMs = Math.max(600_000, timeoutMs),
  keep = 200,
  workerFile = studyWorker,
}: StudyPoolOptions = {}): StudyPool {
  const quick = workersOf(workerFile, { minThreads: workers, maxThreads: workers });
  const long = workersOf(workerFile, { minThreads: 0, maxThreads: 1 });
  /** Loads typeface, charts and writers, which no question needs. */
  const files = workerPool<StatementFileRequest, StatementFile | null>({
    filename: fileWorker,
    minThreads: 0,
    maxThreads: 1,
  });
  const parts = new RecentlyUsed<LifePart>(keep);
  const sharePart = shared<LifePart>();
  const results = new RecentlyUsed<StudyResult>(keep);
  const share = shared<StudyResult>();
  /** Who is told how far a study is, by its key. */
  const listeners = new Map<string, Set<(progress: StudyProgress) => void>>();
  let computed = 0;
  let closing = false;

  async function ask(
    question: Question,
    data: StudyData,
    signal: AbortSignal | undefined,
    { workers: { pool, sent } = quick, onProgress, longest = timeoutMs }: AskOptions = {},
  ): Promise<Answer> {
    if (closing) throw new RequestError("shutting-down");
    const timeout = AbortSignal.timeout(longest);
    const stop = signal === undefined ? timeout : AbortSignal.any([timeout, signal]);
    const send = async (withRecords: boolean) => {
      const { port1, port2 } = new MessageChannel();
      if (onProgress !== undefined) port1.on("message", onProgress);
      const task = { question, data: withRecords ? data : { ...data, records: null, answers: [] }, progress: port2 };
      try {
        return await pool.run(task, { signal: stop, transferList: [port2] });
      } finally {
        port1.close();
      }
    };
    try {
      const first = !sent.has(data.dataHash);
      sent.add(data.dataHash);
      const answer = await send(first);
      return answer.kind === "records wanted" ? await send(true) : answer;
    } catch (error) {
      if (timeout.aborted) throw new RequestError("study-too-long", { seconds: Math.round(longest / 1000) });
      if (signal?.aborted) throw new RequestError("study-cancelled");
      if (closing) throw new RequestError("shutting-down");
      throw error;
    }
  }

  return {
    async study(definition, data, signal, onProgress) {
      const key = JSON.stringify([data.dataHash, data.sample, contentHash(data.cellTexts), studyHash(definition)]);
      const kept = results.get(key);
      if (kept !== undefined) return kept;
      const own = listeners.get(key) ?? new Set();
      listeners.set(key, own);
      if (onProgress !== undefined) own.add(onProgress);
      const tell = (progress: StudyProgress) => {
        for (const listener of own) listener(progress);
      };
      try {
        return await share(key, signal, async (stop) => {
          const answer = await ask({ kind: "study", definition }, data, stop, {
            onProgress: tell,
            longest: onProgress === undefined ? timeoutMs : watchedTimeoutMs,
          });
          if (answer.kind !== "study") throw refusal(answer);
          computed += 1;
          results.set(key, answer.result);
          return answer.result;
        });
      } finally {
        if (onProgress !== undefined) own.delete(onProgress);
        if (own.size === 0 && listeners.get(key) === own) listeners.delete(key);
      }
    },
    async part(definition, part, data, signal, onShare) {
      const key = JSON.stringify([data.dataHash, studyHash(definition), part]);
      const kept = parts.get(key);
      if (kept !== undefined) return kept;
      return sharePart(key, signal, async (stop) => {
        const answer = await ask({ kind: "part", definition, part }, data, stop, {
          workers: long,
          ...(onShare === undefined ? {} : { onProgress: ({ share: done }) => onShare(done) }),
        });
        if (answer.kind !== "part") throw refusal(answer);
        parts.set(key, answer.part);
        return answer.part;
      });
    },
    async choices(data) {
      const answer = await ask({ kind: "choices" }, data, undefined, { workers: long, longest: watchedTimeoutMs });
      if (answer.kind !== "choices") throw refusal(answer);
      return answer.choices;
    },
    async lives(definition, page, data, signal) {
      const answer = await ask({ kind: "lives", definition, page }, data, signal);
      if (answer.kind !== "lives") throw refusal(answer);
      return answer.page;
    },
    async audit(page, derivable, data, signal) {
      const answer = await ask({ kind: "audit", page, derivable }, data, signal);
      if (answer.kind !== "audit") throw refusal(answer);
      return answer.page;
    },
    async answersEffect(preview, data, signal) {
      const answer = await ask({ kind: "answers preview", ...preview }, data, signal);
      if (answer.kind !== "answers preview") throw refusal(answer);
      return answer.effect;
    },
    async planStatement(definition, previous, data, signal) {
      const answer = await ask({ kind: "statement plan", definition, previous }, data, signal);
      if (answer.kind !== "statement plan") throw refusal(answer);
      return answer.questions;
    },
    async statement(parts, data, signal) {
      const answer = await ask({ kind: "statement", parts }, data, signal);
      if (answer.kind !== "statement") throw refusal(answer);
      return answer.result;
    },
    async statementFile(request, signal) {
      if (closing) throw new RequestError("shutting-down");
      try {
        return await files.run(request, signal === undefined ? {} : { signal });
      } catch (error) {
        if (signal?.aborted) throw new RequestError("study-cancelled");
        throw error;
      }
    },
    get counts() {
      return { kept: results.size, computed };
    },
    async close() {
      closing = true;
      await Promise.all([quick.pool.destroy(), long.pool.destroy(), files.destroy()]);
    },
  };
}

/** Workers of one kind, and the records that were sent to them. */
interface Workers {
  readonly pool: WorkerPool<Task, Answer>;
  readonly sent: Set<string>;
}

const workersOf = (
  filename: string,
  threads: { readonly minThreads: number; readonly maxThreads: number },
): Workers => ({ pool: workerPool<Task, Answer>({ filename, ...threads }), sent: new Set() });

interface AskOptions {
  readonly workers?: Workers;
  readonly onProgress?: (progress: StudyProgress) => void;
  /** Milliseconds after which it is stopped. */
  readonly longest?: number;
}

function refusal(answer: Answer): Error {
  return answer.kind === "refused"
    ? new AnalysisError(answer.code, answer.facts)
    : new Error(`The worker answered "${answer.kind}" to another question.`);
}
