/** Workbooks, pasted cells and large sheets over HTTP, read in the worker. */
import { createServer, type Server } from "node:http";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  type DropPreview,
  type DropProgress,
  nameOfSheet,
  type RowRef,
  type StoredRow,
  tabNameHeader,
} from "../../../analysis/index.ts";
import { dropPreview, dropProgress, errorReply } from "../../../server/contracts/api.ts";
import { readDrop } from "../../../server/intake/readDrop.ts";
import { readBatch } from "../../../server/storage/readBatch.ts";
import { createDropPool, type DropPool } from "../../../server/work/dropPool.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { smallSheets } from "../../support/smallSheets.ts";
import { handmadeWorkbook } from "../../support/workbooks.ts";

let shop: AppForTests;
let dropPool: DropPool;
let server: Server;
let address = "";
beforeAll(async () => {
  dropPool = createDropPool({ smallBytes: 0 });
  shop = await appForTests({ dropPool });
  server = createServer(shop.app);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const bound = server.address();
  address = `http://127.0.0.1:${typeof bound === "object" ? bound?.port : 0}`;
});
afterAll(async () => {
  server.close();
  await dropPool.close();
  await shop.close();
});

type Files = Readonly<Record<string, string | Uint8Array>>;
function drop(files: Files, prefer = "") {
  const sending = request(server).post("/api/drops").set("prefer", prefer);
  for (const [name, bytes] of Object.entries(files)) sending.attach("files", Buffer.from(bytes), { filename: name });
  return sending;
}
function checked(body: DropPreview): DropPreview {
  dropPreview.strict().parse(body);
  return body;
}
const get = (path: string) => request(server).get(path);
const answer = (id: string, body: object) => request(server).post(`/api/drops/${id}/answers`).send(body);
async function rowAt(ref: string): Promise<StoredRow> {
  const [row] = await shop.store.rowsByRef([refOf(ref)]);
  if (row === undefined) throw new Error(`no row ${ref}`);
  return row;
}
function refOf(ref: string): RowRef {
  const [table = "", key = ""] = ref.split(/:(.*)/s);
  return { table: table === "findings" ? "findings" : "runs", key };
}
async function storeAll({ id, confirmations }: DropPreview) {
  let open = confirmations.filter(({ answered }) => !answered);
  while (open.length > 0) {
    const { body } = await answer(id, { confirm: open.map((each) => each.id) });
    open = (body as DropPreview).confirmations.filter(({ answered }) => !answered);
  }
  return await request(server).post(`/api/drops/${id}/store`).send({ who: "AB" });
}
const runLines = (count: number): string =>
  ["Run no,Serial,Out,In,Hours,Customer,Pulled because"]
    .concat(
      Array.from({ length: count }, (_, index) => {
        const day = new Date(Date.UTC(2020, 0, 1) + (index % 2_000) * 86_400_000).toISOString().slice(0, 10);
        return `${index + 100_000},QX-${100 + (index % 40)},${day},${day},${(index % 90) + 0.5},Example Energy,Planned`;
      }),
    )
    .join("\n");

describe("workbooks and pasted cells go the way that files go", () => {
  test("a workbook with one tab a tool, dropped with text sheets, is stored as one batch, and replays to the same rows", async () => {
    const tabs = ["QX-101", "QX-102"].map((name, index) => ({
      name,
      rows: [
        [`Runs of ${name}`],
        [],
        ["Run no", "Out", "In", "Hours", "Pulled because"],
        [10 * index + 1, '<c r="@" s="1"><v>45310</v></c>', '<c r="@" s="1"><v>45320</v></c>', 62.5, "Planned"],
        [10 * index + 2, '<c r="@" s="1"><v>45330</v></c>', '<c r="@" s="1"><v>45340</v></c>', "12 h", "Planned"],
      ],
    }));
    const bytes = handmadeWorkbook({ tabs: [...tabs, { name: "blank" }], formats: ["dd.mm.yyyy"] });
    const reply = await drop({ "runs by tool.xlsx": bytes, "tool list.csv": smallSheets["tool list.csv"] ?? "" });
    const preview = checked(reply.body);
    expect(preview.files.map(nameOfSheet)).toEqual([
      "runs by tool.xlsx, tab QX-101",
      "runs by tool.xlsx, tab QX-102",
      "tool list.csv",
    ]);
    expect(preview.files[0]?.mapping.tables[0]?.columns.serial).toMatchObject({ from: tabNameHeader });
    expect(preview.files[0]?.problems.map(({ code }) => code)).toContain("tab-empty");
    expect(preview.counts).toMatchObject({ lines: 7, new: 7, setAside: 0 });
    // Tabs of one shape are asked about once.
    expect(preview.confirmations.filter(({ kind }) => kind === "columns").length).toBe(2);

    const files = [{ file: "runs by tool.xlsx", bytes }];
    const reading = await readDrop(files, {}, shop.store);
    const again = await readBatch(
      {
        kind: "batch",
        batch: 1,
        who: "AB",
        when: "2025-06-01T12:00:00Z",
        files: [],
        sheets: reading.mapped.map(({ mapped: { file, sheet }, mapping }) => ({ file, sheet, mapping })),
        words: reading.words,
        setup: [],
        linkProblems: [],
        dataHash: "",
      },
      new Map([["runs by tool.xlsx", bytes]]),
    );
    expect(again.sheets).toEqual(reading.mapped.map(({ mapped }) => mapped));

    const stored = await storeAll(preview);
    expect([stored.status, stored.body.counts]).toEqual([201, preview.counts]);
    expect(await rowAt('runs:["11"]')).toMatchObject({
      values: { serial: "QX-102", out_on: "2024-01-19", hours: 62.5 },
      origin: { file: "runs by tool.xlsx", sheet: "QX-102", line: 4 },
    });
  });

  test("cells pasted from a spreadsheet are a drop; nothing pasted is refused", async () => {
    const text = (smallSheets["runs.csv"] ?? "").replaceAll(",", "\t");
    const reply = await request(server).post("/api/drops/paste").send({ text, name: "../runs <b>" });
    expect(reply.status).toBe(201);
    expect(reply.body.files[0]).toMatchObject({ file: "runs <b>", counts: { lines: 6, setAside: 0 } });
    expect(reply.body.files[0].mapping.format.delimiter).toBe("\t");
    await request(server).delete(`/api/drops/${reply.body.id}`);
    const nothing = await request(server).post("/api/drops/paste").send({ text: "" });
    expect([nothing.status, errorReply.parse(nothing.body).error.code]).toEqual([400, "bad-body"]);
  });

  test("blanks that seem to mean 'as above' are asked about; confirmed, they are filled, and the cells stay as written", async () => {
    const text = [
      "Teardown;Serial;Date;Item;Condition",
      "T1;QX-101;2024-02-25;main seal;sound",
      ";;;J1;sound",
      ";;;J2;galling",
      "T2;QX-102;2024-03-25;main seal;wear",
      ";;;J1;sound",
    ].join("\n");
    const { body: preview } = await drop({ "teardowns.csv": text });
    const asked = preview.confirmations.find(({ id }: { id: string }) => id.startsWith("filled:"));
    expect(asked).toMatchObject({ kind: "columns", answered: false });
    expect(asked.question).toBe('In teardowns.csv, does a blank under "Teardown", "Serial", "Date" mean "as above"?');
    expect(preview.counts).toMatchObject({ lines: 5, setAside: 0 });

    const { mapping } = preview.files[0];
    const edited = { ...mapping, format: { ...mapping.format, fillDown: [] } };
    const notFilled: DropPreview = (await answer(preview.id, { mappings: { "teardowns.csv": edited } })).body;
    expect(notFilled.counts).toMatchObject({ lines: 5, setAside: 3 });
    expect(notFilled.confirmations.some(({ id }) => id.startsWith("filled:"))).toBe(false);
    await request(server).delete(`/api/drops/${preview.id}`);

    const filled = (await drop({ "teardowns.csv": text })).body;
    expect((await storeAll(filled)).status).toBe(201);
    const { records } = await shop.store.loadRecords();
    const found = records.findings?.find(({ item }) => item === "J2");
    const row = await rowAt(`findings:${JSON.stringify([found?.teardown, found?.item, found?.condition])}`);
    expect(row).toMatchObject({ values: { teardown: "QX-101 2024-02-25" }, origin: { line: 4 } });
    expect(row.asWritten).toEqual({ Item: "J2", Condition: "galling" });
    // Remembered: the next sheet of this shape is filled without a question.
    const next = (await drop({ "teardowns.csv": text })).body;
    expect(next.counts).toMatchObject({ unchanged: 5, setAside: 0 });
    expect(next.confirmations.some(({ id }: { id: string }) => id.startsWith("filled:"))).toBe(false);
    await request(server).delete(`/api/drops/${next.id}`);
  });
});

describe("lines set aside come back repaired", () => {
  test("from a drop and from a stored batch: same headers and delimiter, formula cells whole, the reason ignored", async () => {
    const text = [
      "Run no;Serial;Out;In;Hours;Notes",
      "501;QX-101;05.03.2024;20.03.2024;62,5;ok",
      '502;;06.03.2024;21.03.2024;1.250;"=cmd|\' /C calc\'!A0; ""x"""',
      "#503;QX-101;;;10;-5",
      "504;QX-101;07.03.2024;22.03.2024;11;ok;surplus",
    ].join("\n");
    const preview: DropPreview = (await drop({ "log.csv": text })).body;
    expect(preview.counts).toMatchObject({ lines: 4, setAside: 3 });
    const draft = await get(`/api/drops/${preview.id}/set-aside.csv`).query({ file: "log.csv" });
    const { body: batch } = await storeAll(preview);
    const saved = await get(`/api/batches/${batch.batch}/repair.csv`).query({ file: "log.csv" });
    expect(saved.headers["content-disposition"]).toContain("log to repair.csv");
    expect(saved.text).toBe(draft.text);
    const [headers, first] = saved.text.replace(/^\uFEFF/, "").split("\r\n");
    expect(headers).toBe("Run no;Serial;Out;In;Hours;Notes;why set aside");
    expect(first).toContain(`"'=cmd|' /C calc'!A0; ""x"""`);

    const repaired = saved.text
      .replace("502;;", "502;QX-102;")
      .replace('"#503";QX-101;;', '"#503";QX-101;08.03.2024;')
      .replace(";surplus", "");
    const again: DropPreview = (await drop({ "log to repair.csv": repaired })).body;
    expect(again.files[0]).toMatchObject({ mappingIs: "remembered", counts: { lines: 3, new: 3, setAside: 0 } });
    expect(again.confirmations.filter(({ answered }) => !answered)).toEqual([]);
    expect((await storeAll(again)).status).toBe(201);
    const row = await rowAt('runs:["502"]');
    // Decimal comma as confirmed before, though nothing in the repaired lines shows it.
    expect(row.values).toMatchObject({ serial: "QX-102", out_on: "2024-03-06", hours: 1250 });
    expect(row.asWritten.Notes).toBe("=cmd|' /C calc'!A0; \"x\"");
    const missing = await get(`/api/batches/${batch.batch}/repair.csv`).query({ file: "other.csv" });
    expect([missing.status, missing.body.error.code]).toEqual([404, "sheet-not-found"]);
  });
});

describe("rows that an earlier sheet held and a grown one does not", () => {
  test("are asked about, only where the sheet is plainly the earlier one, and never deleted", async () => {
    const headers = "Run no,Serial,Out,In,Hours,Well";
    const line = (run: number) => `${run},QX-101,2024-01-${String((run % 27) + 1).padStart(2, "0")},,${run % 50},W1`;
    const lines = Array.from({ length: 20 }, (_, index) => line(700 + index));
    const first: DropPreview = (await drop({ "wells.csv": [headers, ...lines].join("\n") })).body;
    await storeAll(first);
    const before = (await get("/api/state")).body.rows.runs;

    const grown = [headers, ...lines.filter((_, index) => index !== 4 && index !== 9), line(800)].join("\n");
    const preview: DropPreview = checked((await drop({ "wells week 2.csv": grown })).body);
    expect(preview.files[0]?.gone).toEqual([
      { row: { table: "runs", key: '["704"]' }, origin: { file: "wells.csv", sheet: null, line: 6 } },
      { row: { table: "runs", key: '["709"]' }, origin: { file: "wells.csv", sheet: null, line: 11 } },
    ]);
    const asked = preview.confirmations.filter(({ kind }) => kind === "gone");
    expect(asked).toMatchObject([{ answered: false }]);
    expect(preview.ready).toBe(false);
    expect((await storeAll(preview)).status).toBe(201);
    expect((await get("/api/state")).body.rows.runs).toBe(before + 1);

    const part = (await drop({ "part.csv": [headers, ...lines.slice(0, 8)].join("\n") })).body;
    expect(part.files[0].gone).toEqual([]);
    const broken = (
      await drop({ "broken.csv": [headers, ...lines.map((each) => each.replace("704,QX-101", "704,"))].join("\n") })
    ).body;
    // A row on a line that is set aside is not gone.
    expect(broken.files[0].gone.map(({ row }: { row: { key: string } }) => row.key)).toEqual(['["800"]']);
    for (const { id } of [part, broken]) await request(server).delete(`/api/drops/${id}`);
  });
});

describe("a large drop", () => {
  test("is answered at once where asked, tells its progress, and other requests are answered meanwhile", async () => {
    const began = await drop({ "runs.csv": runLines(10_000) }, "respond-async");
    expect([began.status, began.headers["preference-applied"]]).toEqual([202, "respond-async"]);
    const { id } = dropProgress.strict().parse(began.body);
    const looks: DropProgress[] = [];
    const times: number[] = [];
    let preview: DropPreview | null = null;
    while (preview === null) {
      const { body } = await get(`/api/drops/${id}`);
      if (body.state === "reading") looks.push(dropProgress.strict().parse(body));
      else preview = checked(body);
      const from = performance.now();
      expect((await get("/api/state")).status).toBe(200);
      times.push(performance.now() - from);
    }
    expect(preview.counts).toMatchObject({ lines: 10_000, new: 10_000 });
    expect(looks.map(({ share }) => share)).toEqual(looks.map(({ share }) => share).sort((a, b) => a - b));
    expect(looks.some(({ stage, rows }) => stage === "mapping" && rows > 0)).toBe(true);
    expect(times.length).toBeGreaterThan(3);
    // No line of these is without a notice: the first are listed, and how many there are.
    const short = runLines(3_000).replaceAll(",Planned", "");
    const { body: noticed } = await drop({ "short.csv": short });
    expect(checked(noticed).files[0]?.inAll?.problems).toBeGreaterThanOrEqual(3_000);
    expect(noticed.files[0].problems.length).toBe(2_000);
    await request(server).delete(`/api/drops/${noticed.id}`);

    // Joints of builds that no sheet holds: the first links are listed, and how many there are; all are stored.
    const builds = ["Build,Joint,Final torque", ...Array.from({ length: 2_100 }, (_, index) => `B-${index},J1,900`)];
    const { body: hanging } = await drop({ "joints.csv": builds.join("\n") });
    const links = checked(hanging);
    expect([links.linkProblems.length, links.linkProblemsInAll]).toEqual([2_000, 2_100]);
    await request(server).delete(`/api/drops/${links.id}`);

    const refused = request(server)
      .post(`/api/drops/${id}/answers`)
      .send({ confirm: ["nothing"] });
    const [first, second] = await Promise.all([refused, answer(id, { confirm: ["nothing"] })]);
    expect([first.status, second.status].sort()).toEqual([200, 409]);
    expect([first, second].find(({ status }) => status === 409)?.body.error.code).toBe("drop-being-read");
    await request(server).delete(`/api/drops/${id}`);
  });

  test("tells its progress as events, and ends with the preview, or with what was refused", async () => {
    const events = async (files: Files) => {
      const { body } = await drop(files, "respond-async");
      const reply = await fetch(`${address}/api/drops/${body.id}`, { headers: { accept: "text/event-stream" } });
      expect(reply.headers.get("content-type")).toContain("text/event-stream");
      const told = [...(await reply.text()).matchAll(/event: (\w+)\ndata: (.*)\n/g)];
      return { id: body.id, told: told.map(([, event, data]) => ({ event, data: JSON.parse(data ?? "null") })) };
    };
    const good = await events({ "runs.csv": runLines(4_000) });
    expect(good.told[0]?.event).toBe("progress");
    dropProgress.strict().parse(good.told[0]?.data);
    expect(checked(good.told.at(-1)?.data).counts.lines).toBe(4_000);
    await request(server).delete(`/api/drops/${good.id}`);
    const bad = await events({ "runs.csv": 'a,b\n1,"open' });
    expect(bad.told.at(-1)).toMatchObject({ event: "error", data: { error: { code: "quote-not-closed" } } });
    expect((await get(`/api/drops/${bad.id}`)).status).toBe(404);
  });

  test("taken back while it is read, it stops; the next drop is read by a fresh worker", async () => {
    const { body } = await drop({ "runs.csv": runLines(30_000) }, "respond-async");
    expect((await request(server).delete(`/api/drops/${body.id}`)).status).toBe(204);
    expect((await get(`/api/drops/${body.id}`)).status).toBe(404);
    const next = await drop({ "runs.csv": runLines(10) });
    expect([next.status, next.body.counts.lines]).toEqual([201, 10]);
    await request(server).delete(`/api/drops/${next.body.id}`);
  });

  test("too slow or too much for the worker, it is refused, and says what to do", async () => {
    const context = { dataHash: "none", remembered: [], words: { version: 0, vocabularies: {} } };
    const files = [{ file: "runs.csv", bytes: new TextEncoder().encode(runLines(30_000)) }];
    const read = async (options: Parameters<typeof createDropPool>[0]) => {
      const pool = createDropPool({ smallBytes: 0, ...options });
      try {
        await pool.read({ files, answers: {}, context, records: {} });
      } finally {
        await pool.close();
      }
    };
    await expect(read({ timeoutMs: 20 })).rejects.toMatchObject({ code: "drop-too-slow" });
    await expect(read({ memoryMb: 24 })).rejects.toMatchObject({ code: "drop-too-much" });
  });
});
