import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { stateReply } from "../../../server/contracts/api.ts";
import { whatFailsResult } from "../../../server/contracts/results.ts";
import { startServer } from "../../../server/start.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "afterrun-start-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test("a taken port is left to its owner, a second start on the folder is refused, and closing gives all of it back", async () => {
  const owner = createServer((_request, response) => response.end("mine"));
  await new Promise<void>((resolve) => owner.listen(0, "127.0.0.1", resolve));
  const { port } = owner.address() as AddressInfo;
  const said: string[] = [];
  const start = () =>
    startServer({ folder: join(folder, "empty"), port, sample: false, say: (line) => said.push(line) });

  const running = await start();
  expect(running.port).not.toBe(port);
  expect(said).toEqual([`Port ${port} is in use by another program; port ${running.port} is used instead.`]);
  expect(await (await fetch(`http://127.0.0.1:${port}/`)).text()).toBe("mine");
  expect((await fetch(`${running.address}api/state`)).status).toBe(200);
  await expect(start()).rejects.toMatchObject({ code: "folder-in-use" });

  await Promise.all([running.close(), running.close()]);
  await expect(fetch(`${running.address}api/state`)).rejects.toThrow();
  const again = await start();
  await again.close();
  await new Promise((resolve) => owner.close(resolve));
});

test("the first start brings the invented sample by the real path, says so, and answers from it", async () => {
  const said: string[] = [];
  const options = { folder: join(folder, "sample"), port: 0, sample: true, say: (line: string) => said.push(line) };
  const running = await startServer(options);
  try {
    expect(said[0]).toContain("invented");
    const state = stateReply.parse(await (await fetch(`${running.address}api/state`)).json());
    expect(state).toMatchObject({ sample: true, batches: 1, openQuestions: [] });
    expect(state.rows.tools).toBe(60);
    const fails = whatFailsResult.parse(await (await fetch(`${running.address}api/what-fails`)).json());
    expect(fails.modes.length).toBeGreaterThan(5);
    expect(fails.notices.map(({ code }) => code)).toContain("invented-data");
  } finally {
    await running.close();
  }
});
