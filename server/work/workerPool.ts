import { createRequire } from "node:module";
import { Piscina } from "piscina";

export interface WorkerPool<Task, Answer> {
  /** Errors: what the task throws; what its worker died of, also where that was before it took the task. */
  run(task: Task, options?: Parameters<Piscina<Task, Answer>["run"]>[1]): Promise<Answer>;
  /** Stops every worker and what it is at. */
  destroy(): Promise<void>;
}

export interface WorkerPoolOptions {
  /** The worker's module, TypeScript. */
  readonly filename: string;
  /** Started at once and kept; 0: with the first task, until a minute after the last. */
  readonly minThreads: number;
  readonly maxThreads: number;
  /** Of each worker; beyond it, it is stopped. */
  readonly memoryMb?: number;
}

const execArgv = ["--import", createRequire(import.meta.url).resolve("tsx")];

/**
 * Threads that run tasks. A worker that dies without a task (while it loads, for one) fails whatever waits for a worker and
 * is replaced with the next task; the pool underneath would start it over and over, or take the process with it.
 */
export function workerPool<Task, Answer>({
  filename,
  minThreads,
  maxThreads,
  memoryMb,
}: WorkerPoolOptions): WorkerPool<Task, Answer> {
  const waiting = new Set<(cause: unknown) => void>();
  let pool: Piscina<Task, Answer> | null = minThreads > 0 ? start() : null;
  let closed = false;

  function start(): Piscina<Task, Answer> {
    const started = new Piscina<Task, Answer>({
      filename,
      minThreads,
      maxThreads,
      ...(minThreads > 0 ? {} : { idleTimeout: 60_000 }),
      ...(memoryMb === undefined ? {} : { resourceLimits: { maxOldGenerationSizeMb: memoryMb } }),
      execArgv,
    });
    started.on("error", (cause: unknown) => {
      if (pool === started) pool = null;
      for (const fail of waiting) fail(cause);
      waiting.clear();
      void started.destroy();
    });
    return started;
  }

  return {
    run(task, options) {
      if (closed) return Promise.reject(new Error("The workers are stopped."));
      pool ??= start();
      const answer = pool.run(task, options);
      return new Promise((resolve, reject) => {
        waiting.add(reject);
        answer.then(resolve, reject).finally(() => waiting.delete(reject));
      });
    },
    async destroy() {
      closed = true;
      await pool?.destroy();
    },
  };
}
