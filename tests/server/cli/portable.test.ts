import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { callAfterrun as afterrun, type StorePlace } from "../../support/commandLine.ts";
import { type PostgresForTests, startPostgres } from "../../support/postgres.ts";
import { copyEmptyData } from "../../support/postgresFolder.ts";
import { quickFolder } from "../../support/quickFolder.ts";
import { smallSheets } from "../../support/smallSheets.ts";

let folder: string;
let postgres: PostgresForTests;
beforeAll(async () => {
  postgres = await startPostgres();
  folder = await mkdtemp(join(quickFolder(), "afterrun-portable-cli-"));
  await mkdir(join(folder, "sheets"));
  for (const [name, text] of Object.entries(smallSheets)) await writeFile(join(folder, "sheets", name), text);
});
afterAll(async () => {
  await postgres.stop();
  await rm(folder, { recursive: true, force: true });
});

const place = async (name: string): Promise<StorePlace> => ({
  data: join(folder, name),
  url: await postgres.freshDatabase(),
});

test("a shop's records go out and in, are backed up and restored, move to a folder and to a server: always the same", async () => {
  const shop = await place("shop");
  expect((await afterrun(shop, "import", join(folder, "sheets"), "--accept-proposals")).code).toBe(0);

  const out = join(folder, "export");
  expect(await afterrun(shop, "export", out)).toMatchObject({ code: 0, err: "" });
  expect(JSON.parse(await readFile(join(out, "datapackage.json"), "utf8")).resources.length).toBeGreaterThan(10);
  expect(await afterrun(shop, "export", out)).toMatchObject({ code: 1, err: expect.stringContaining("already holds") });
  const back = await afterrun(await place("imported"), "import", out, "--initials", "AB");
  expect(back).toMatchObject({ code: 0, err: "" });
  expect(back.out).toContain("All data are equal to those exported.");
  expect(back.out).not.toContain("differs");

  const file = join(folder, "shop.tar.gz");
  const backup = await afterrun(shop, "backup", file);
  expect([backup.code, backup.out]).toEqual([0, expect.stringContaining("every checksum holds")]);
  const restored = await afterrun(await place("restored"), "restore", file);
  expect([restored.code, restored.out]).toEqual([0, expect.stringContaining("equal to those backed up")]);
  expect(await afterrun(shop, "restore", file)).toMatchObject({
    code: 1,
    err: expect.stringContaining("already holds a journal"),
  });

  const embedded = join(folder, "embedded");
  await copyEmptyData(join(embedded, "data"));
  const moved = await afterrun(shop, "move", "--to", embedded);
  expect([moved.code, moved.out]).toEqual([0, expect.stringMatching(/Moved 1 batches; all \d+ tables are equal\./)]);
  const again = await afterrun({ data: embedded, url: "" }, "move", "--to", await postgres.freshDatabase());
  expect([again.code, again.err]).toEqual([0, ""]);
  // The password of the address is printed nowhere.
  expect(again.out).not.toContain("postgres:postgres");
  const hashes = (text: string) => text.match(/^\w+: [0-9a-f]{64}/gm);
  expect(hashes(again.out)).toEqual(hashes(moved.out));
  expect(hashes(restored.out)).toEqual(expect.arrayContaining(hashes(moved.out) ?? [""]));
}, 120_000);
