import { fileURLToPath } from "node:url";
import { afterEach, expect, test } from "vitest";
import { type WorkerPool, workerPool } from "../../../server/work/workerPool.ts";

const workerFile = (name: string) => fileURLToPath(new URL(`./${name}`, import.meta.url));
let pool: WorkerPool<unknown, unknown> | undefined;
afterEach(() => pool?.destroy());

test.each([0, 1])(
  "a worker that dies while it loads fails the task that waits, not the process; %i kept ready",
  async (minThreads) => {
    pool = workerPool({ filename: workerFile("workerThatCannotLoad.ts"), minThreads, maxThreads: 1 });
    await expect(pool.run({})).rejects.toBeInstanceOf(Error);
    // And the next one too: nothing hangs.
    await expect(pool.run({})).rejects.toBeInstanceOf(Error);
  },
);

test("too little memory to load is said of the task, as too little to work would be", async () => {
  pool = workerPool({ filename: workerFile("testWorker.ts"), minThreads: 0, maxThreads: 1, memoryMb: 4 });
  await expect(pool.run({})).rejects.toMatchObject({ code: "ERR_WORKER_OUT_OF_MEMORY" });
});

test("once stopped it takes nothing", async () => {
  pool = workerPool({ filename: workerFile("testWorker.ts"), minThreads: 0, maxThreads: 1 });
  await pool.destroy();
  await expect(pool.run({})).rejects.toThrow("stopped");
});
