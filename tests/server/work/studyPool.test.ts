import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, test } from "vitest";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { RecentlyUsed } from "../../../server/work/recentlyUsed.ts";
import { shared } from "../../../server/work/shared.ts";
import { createStudyPool, type StudyPool } from "../../../server/work/studyPool.ts";
import type { StudyData } from "../../../server/work/tasks.ts";

const workerFile = fileURLToPath(new URL("./testWorker.ts", import.meta.url));
const data = (dataHash: string): StudyData => ({
  dataHash,
  records: {},
  answers: [],
  statements: [],
  sample: false,
  cellTexts: {},
});
const busyFor = (seed: number) => ({ ...defaultStudy("item life"), seed });
const page = { ids: null, kind: null, offset: 0, limit: 1 };

describe("the pool", () => {
  let pool: StudyPool;
  afterEach(() => pool.close());

  test("sends the records once for each data hash", async () => {
    pool = createStudyPool({ workerFile });
    const sent = [];
    for (const hash of ["a", "a", "b", "b", "a", "a"])
      sent.push((await pool.lives(busyFor(0), page, data(hash))).total);
    expect(sent).toEqual([1, 1, 2, 2, 2, 2]);
  });

  test("a study that takes too long is stopped, and the next one is answered by a fresh worker", async () => {
    pool = createStudyPool({ workerFile, timeoutMs: 6_000 });
    await pool.lives(busyFor(0), page, data("a"));
    const began = performance.now();
    await expect(pool.lives(busyFor(600_000), page, data("a"))).rejects.toMatchObject({ code: "study-too-long" });
    expect(performance.now() - began).toBeLessThan(10_000);
    // The fresh worker has no records; it asks for them and is sent them within the same call.
    expect((await pool.lives(busyFor(0), page, data("a"))).total).toBe(1);
  });

  test("a study that nobody waits for is stopped", async () => {
    pool = createStudyPool({ workerFile });
    const reader = new AbortController();
    const waiting = pool.lives(busyFor(600_000), page, data("a"), reader.signal);
    setTimeout(() => reader.abort(), 200);
    await expect(waiting).rejects.toMatchObject({ code: "study-cancelled" });
    expect((await pool.lives(busyFor(0), page, data("a"))).total).toBe(1);
  });

  test("the main thread keeps turning while the worker is busy", async () => {
    pool = createStudyPool({ workerFile });
    await pool.lives(busyFor(0), page, data("a"));
    let turns = 0;
    const ticking = setInterval(() => {
      turns += 1;
    }, 10);
    await pool.lives(busyFor(500), page, data("a"));
    clearInterval(ticking);
    expect(turns).toBeGreaterThan(10);
  });

  test("a long part has a worker of its own: a first answer does not wait for it, and the part can be given up", async () => {
    pool = createStudyPool({ workerFile });
    await pool.lives(busyFor(0), page, data("a"));
    const reader = new AbortController();
    const shares: number[] = [];
    const part = pool.part(busyFor(600_000), { kind: "checks" }, data("a"), reader.signal, (share) =>
      shares.push(share),
    );
    await expect.poll(() => shares, { timeout: 20_000 }).toContain(0.5);
    const began = performance.now();
    await pool.lives(busyFor(0), page, data("a"));
    expect(performance.now() - began).toBeLessThan(2_000);
    reader.abort();
    await expect(part).rejects.toMatchObject({ code: "study-cancelled" });
    expect((await pool.lives(busyFor(0), page, data("a"))).total).toBe(1);
  });

  test("what the engine refuses arrives as its code with facts", async () => {
    pool = createStudyPool({ workerFile });
    await expect(pool.lives(busyFor(-1), page, data("a"))).rejects.toMatchObject({
      name: "AnalysisError",
      code: "no-lives",
      facts: { item: "J1" },
    });
  });

  test("a closed pool says that it is closing", async () => {
    pool = createStudyPool({ workerFile });
    await pool.close();
    await expect(pool.lives(busyFor(0), page, data("a"))).rejects.toMatchObject({ code: "shutting-down" });
  });
});

describe("sharing one computation", () => {
  test("two callers share the work; the first to leave does not stop it, the last does", async () => {
    const share = shared<number>();
    let started = 0;
    let stopped = false;
    const work = (stop: AbortSignal) => {
      started += 1;
      return new Promise<number>((_resolve, reject) => {
        stop.addEventListener("abort", () => {
          stopped = true;
          reject(new Error("stopped"));
        });
      });
    };
    const [first, second] = [new AbortController(), new AbortController()];
    const waits = [share("key", first.signal, work), share("key", second.signal, work)];
    const settled = Promise.allSettled(waits);
    first.abort();
    await Promise.resolve();
    expect([started, stopped]).toEqual([1, false]);
    second.abort();
    expect((await settled).map((wait) => wait.status)).toEqual(["rejected", "rejected"]);
    expect(stopped).toBe(true);
  });

  test("a failed computation is not remembered", async () => {
    const share = shared<number>();
    await expect(share("key", undefined, () => Promise.reject(new Error("once")))).rejects.toThrow("once");
    expect(await share("key", undefined, () => Promise.resolve(7))).toBe(7);
  });
});

test("the entries used last are kept", () => {
  const kept = new RecentlyUsed<number>(2);
  kept.set("a", 1);
  kept.set("b", 2);
  kept.get("a");
  kept.set("c", 3);
  expect(["a", "b", "c"].map((key) => kept.get(key))).toEqual([1, undefined, 3]);
});
