import { randomUUID } from "node:crypto";
import { fileURLToPath } from "node:url";
import { MessageChannel } from "node:worker_threads";
import {
  AnalysisError,
  type DropAnswers,
  type DropReading,
  type MappedSheet,
  type Mapping,
  type Records,
  tableNames,
} from "../../analysis/index.ts";
import type { DroppedFile } from "../intake/draft.ts";
import { fileKind } from "../intake/fileKind.ts";
import { RequestError } from "../routes/requestError.ts";
import { dropReader } from "./dropReader.ts";
import type { DropContext, DropHead, DropReply, DropTask, Headers, HeadersQuestion, Progress } from "./dropTasks.ts";
import { workerPool } from "./workerPool.ts";

export interface ReadRequest {
  readonly files: readonly DroppedFile[];
  readonly answers: DropAnswers;
  readonly context: DropContext;
  readonly records: Records;
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
}

/** What became of a drop; its rows stay where it was read. */
export interface PooledReading {
  readonly head: DropHead;
  /** All rows, to be stored. */
  rows(): Promise<DropReading["mapped"]>;
  /** The lines of a sheet that were set aside, with what is needed to give them back for repair. */
  setAside(sheet: number): Promise<SetAsideSheet>;
}

export interface SetAsideSheet {
  readonly sheet: Omit<MappedSheet, "lines">;
  readonly mapping: Mapping;
  readonly headers: readonly string[];
}

export interface DropPool {
  /** Errors: those of the reader; "drop-cancelled", "drop-too-slow", "drop-too-much", "shutting-down". */
  read(request: ReadRequest): Promise<PooledReading>;
  /** The headers over lines of a stored file; null where the file does not hold them. */
  headersOf(question: HeadersQuestion): Promise<Headers | null>;
  close(): Promise<void>;
}

export interface DropPoolOptions {
  /** Reading that takes longer is stopped. */
  readonly timeoutMs?: number;
  /** Memory of the worker; beyond it, it is stopped. */
  readonly memoryMb?: number;
  /** Text sheets of so many bytes together are read in the main process, where as few rows are stored; 0: never. */
  readonly smallBytes?: number;
}

const rowsAtOnce = 2_000;
const fewRows = 5_000;

/**
 * Reads drops away from the main thread. One worker reads one drop at a time; stored rows go to it once for each data
 * hash, and rows come back when a drop is stored, both in pieces, so that other requests are answered in between.
 */
export function createDropPool({
  timeoutMs = 180_000,
  memoryMb = 2_048,
  smallBytes = 64_000,
}: DropPoolOptions = {}): DropPool {
  const pool = workerPool<DropTask, DropReply>({
    filename: fileURLToPath(new URL("./dropWorker.ts", import.meta.url)),
    minThreads: 0,
    maxThreads: 1,
    memoryMb,
  });
  let closing = false;
  const here = dropReader();

  type Send = (task: DropTask) => Promise<DropReply>;

  /** Sends tasks to the worker until the signal fires, or to the reader in this process. */
  function sender(inProcess: boolean, signal: AbortSignal | undefined, timeout: AbortSignal): Send {
    if (inProcess) return async (task) => here(task);
    const stop = signal === undefined ? timeout : AbortSignal.any([signal, timeout]);
    return async (task) => {
      try {
        const transferList = task.kind === "read" && task.progress !== null ? [task.progress] : [];
        return await pool.run(task, { signal: stop, transferList });
      } catch (error) {
        if (closing) throw new RequestError("shutting-down");
        if (signal?.aborted) throw new RequestError("drop-cancelled");
        if (timeout.aborted) throw new RequestError("drop-too-slow", { seconds: Math.round(timeoutMs / 1000) });
        if (isOutOfMemory(error)) throw new RequestError("drop-too-much");
        throw error;
      }
    };
  }

  async function sendStored({ context, records }: ReadRequest, send: Send): Promise<void> {
    const { dataHash } = context;
    for (const table of tableNames) {
      const rows = records[table] ?? [];
      for (let from = 0; from < rows.length; from += rowsAtOnce)
        await send({ kind: "stored", dataHash, table, rows: rows.slice(from, from + rowsAtOnce), last: false });
    }
    await send({ kind: "stored", dataHash, table: "tools", rows: [], last: true });
  }

  async function readOnce(request: ReadRequest, reading: string, send: Send, watched: boolean): Promise<DropHead> {
    const { files, answers, context, onProgress } = request;
    const ask = async (): Promise<DropReply> => {
      if (!watched || onProgress === undefined)
        return await send({ kind: "read", reading, files, answers, context, progress: null });
      const { port1, port2 } = new MessageChannel();
      port1.on("message", onProgress);
      try {
        return await send({ kind: "read", reading, files, answers, context, progress: port2 });
      } finally {
        port1.close();
      }
    };
    let reply = await ask();
    if (reply.kind === "stored wanted") {
      await sendStored(request, send);
      reply = await ask();
    }
    if (reply.kind !== "read") throw refusal(reply);
    return reply.head;
  }

  return {
    async read(request) {
      if (closing) throw new RequestError("shutting-down");
      request.signal?.throwIfAborted();
      const inProcess = isSmall(request, smallBytes);
      const reading = randomUUID();
      const send = sender(inProcess, request.signal, AbortSignal.timeout(timeoutMs));
      const head = await readOnce(request, reading, send, !inProcess);

      /** Asks for a part of the reading; one that the worker has lost is made again. */
      async function part(task: DropTask): Promise<DropReply> {
        const again = sender(inProcess, undefined, AbortSignal.timeout(timeoutMs));
        const reply = await again(task);
        if (reply.kind !== "reading wanted") return reply;
        await readOnce(request, reading, again, false);
        return await again(task);
      }
      async function setAside(sheet: number): Promise<SetAsideSheet> {
        const reply = await part({ kind: "set aside", reading, sheet });
        if (reply.kind !== "set aside") throw refusal(reply);
        return reply;
      }
      return {
        head,
        setAside,
        async rows() {
          const mapped: DropReading["mapped"][number][] = [];
          for (const [sheet, count] of head.lines.entries()) {
            const { sheet: rest, mapping } = await setAside(sheet);
            const lines: MappedSheet["lines"][number][] = [];
            for (let from = 0; from < count; from += rowsAtOnce) {
              const reply = await part({ kind: "rows", reading, sheet, from, to: from + rowsAtOnce });
              if (reply.kind !== "rows") throw refusal(reply);
              for (const line of reply.lines) lines.push(line);
            }
            mapped.push({ mapped: { ...rest, lines }, mapping });
          }
          return mapped;
        },
      };
    },
    async headersOf(question) {
      const inProcess = question.file.bytes.length <= smallBytes && isText(question.file.bytes, question.file.file);
      const send = sender(inProcess, undefined, AbortSignal.timeout(timeoutMs));
      const reply = await send({ kind: "headers", ...question });
      if (reply.kind !== "headers") throw refusal(reply);
      return reply.found;
    },
    async close() {
      closing = true;
      await pool.destroy();
    },
  };
}

function isSmall({ files, records }: ReadRequest, smallBytes: number): boolean {
  const bytes = files.reduce((sum, file) => sum + file.bytes.length, 0);
  const rows = tableNames.reduce((sum, table) => sum + (records[table]?.length ?? 0), 0);
  return bytes <= smallBytes && rows <= fewRows && files.every(({ bytes: own, file }) => isText(own, file));
}

function isText(bytes: Uint8Array, file: string): boolean {
  try {
    return fileKind(bytes, file) === "text";
  } catch {
    // Refused by its first bytes: that takes no time, here as there.
    return true;
  }
}

const isOutOfMemory = (error: unknown): boolean =>
  error instanceof Error && "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";

function refusal(reply: DropReply): Error {
  return reply.kind === "refused"
    ? new AnalysisError(reply.code, reply.facts)
    : new Error(`The worker answered "${reply.kind}" to another question.`);
}
