// Every file of a statement is read back by another library and compared with the document it was made from.
import { strFromU8, unzipSync } from "fflate";
import { beforeAll, describe, expect, test } from "vitest";
import {
  namesOf,
  plainText,
  type StatementDocument,
  type StatementResult,
  statementDocument,
} from "../../../analysis/index.ts";
import { figuresOf } from "../../../server/statement/figuresOf.ts";
import { previewIssue } from "../../../server/statement/issue.ts";
import { picturesOf, tablesOf } from "../../../server/statement/picturesOf.ts";
import { writeFile } from "../../../server/statement/writeFile.ts";
import { decoded, partsOf, readPdf, readSheets, readSlides, squeezed } from "../../support/statement/readBack.ts";
import { shopOf, spells, statementOf } from "../../support/statementShop.ts";

const records = shopOf(
  [...spells(26, { nth: 3 }), ...spells(30, { from: "2024-07-02", nth: 10 })].map((one, index) => ({
    ...one,
    ...(index === 2 ? { cause: "LOT-77, built by T. Nobody" } : {}),
  })),
);
let statement: StatementResult;
let document: StatementDocument;
const bytesOf = async (name: string): Promise<Uint8Array> => {
  const file = await writeFile(statement, previewIssue, name);
  if (file === null) throw new Error(`no ${name}`);
  return new Uint8Array(file.bytes);
};
const textOf = async (name: string): Promise<string> => new TextDecoder().decode(await bytesOf(name));
/** A number and its unit are kept on one line by a space that does not break. */
const spaced = (text: string): string => text.replaceAll("\u00A0", " ");
/** What a cell reads as, in every medium. */
const said = (cell: string | { readonly text: string }): string => (typeof cell === "string" ? cell : cell.text);

beforeAll(() => {
  statement = statementOf(records, {
    kind: "before and after",
    change: { what: "=harder seal from LOT-77", on: "2024-07-01", countedFrom: null, appliesTo: "runs" },
    asked: ["mean time between failures", "failures a month"],
    actions: [{ what: "=1+1", item: "main seal", mode: null, state: "open", on: null }],
    runHours: 55,
  });
  document = statementDocument(statement);
});

test("there is something to compare: figures, tables, pictures of every kind", () => {
  expect(figuresOf(document).length).toBeGreaterThan(20);
  expect(tablesOf(document).length).toBeGreaterThan(8);
  expect(new Set(picturesOf(document).map(({ draws }) => draws))).toEqual(
    new Set(["comparisons", "rates", "survival", "over time"]),
  );
});

describe("page", () => {
  test("every figure and every number of a table is there as it is, with the result it comes from", async () => {
    const page = await textOf("statement.html");
    const found = [...page.matchAll(/<(?:data value="([^"]*)"|span) data-result="([0-9a-f]+)"[^>]*>([^<]*)<\//g)].map(
      ([, value = "", result, text = ""]) => ({
        value: value === "" ? null : Number(value),
        result,
        text: decoded(text),
      }),
    );
    const inTables = tablesOf(document).flatMap(({ rows, result }) =>
      rows.flatMap((row) =>
        row.flatMap((cell) => (typeof cell === "string" ? [] : [{ value: cell.value, result, text: cell.text }])),
      ),
    );
    const inSentences = figuresOf(document).map(({ value, result, text }) => ({ value, result, text }));
    const key = (one: object) => spaced(JSON.stringify(one));
    expect(found.map(key).sort()).toEqual([...inSentences, ...inTables].map(key).sort());
  });

  test("it fetches nothing and runs nothing, and its ids are its own", async () => {
    const page = await textOf("statement.html");
    expect(page).not.toMatch(/<script|<link|<img|https?:\/\/(?!www\.w3\.org)|@import|url\((?!data:)/);
    const ids = [...page.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe("paper", () => {
  test("every sentence and every cell stands in the PDF; every section in its contents with its page", async () => {
    const { pages, images, info } = await readPdf(await bytesOf("statement.pdf"));
    const text = squeezed(pages.join(""));
    for (const sentence of document.summary) expect(text).toContain(squeezed(plainText(sentence)));
    for (const { rows, title } of tablesOf(document)) {
      expect(text).toContain(squeezed(title));
      for (const cell of rows.flat()) expect(text).toContain(squeezed(said(cell)));
    }
    const [, contents = ""] = text.split("Contents");
    const contentsPage = pages.findIndex((page) => squeezed(page).includes("Contents"));
    for (const { title } of document.sections) {
      const name = squeezed(title);
      const [, after = ""] = contents.split(name);
      const page = Number(/^\d+/.exec(after)?.[0]) - 1;
      // In the contents, and on the page that they name.
      expect(squeezed(pages[page] ?? "").split(name).length, title).toBeGreaterThan(page === contentsPage ? 2 : 1);
    }
    pages.forEach((page, index) => {
      expect(squeezed(page)).toContain(`Page${index + 1}of${pages.length}`);
      expect(squeezed(page)).toContain(document.contentHash.slice(0, 16));
    });
    expect(images, "pictures are vectors").toBe(0);
    expect(info).toMatchObject({ Title: `${document.title}: ${document.subtitle}`, Language: "en" });
  });
});

describe("paper, page by page", () => {
  test("every picture is on it with its finding, and no heading or table title ends a page", async () => {
    const { pages } = await readPdf(await bytesOf("statement.pdf"));
    const text = squeezed(pages.join(""));
    for (const { finding } of picturesOf(document)) expect(text).toContain(squeezed(finding));
    const headings = [...document.sections, ...tablesOf(document)].map(({ title }) => squeezed(title));
    for (const page of pages.slice(1)) {
      const [shown = ""] = squeezed(page).split(/(?:Invented\w*·)?Preview·content/);
      expect(headings.filter((heading) => shown.endsWith(heading))).toEqual([]);
    }
  });
});

describe("some wells", () => {
  test("what the wells narrow and what they cannot is said under the count of lives", () => {
    const noteOf = (wells?: readonly string[]) => {
      const scope = { ...statement.definition.scope, ...(wells === undefined ? {} : { wells }) };
      const made = statementDocument({ ...statement, definition: { ...statement.definition, scope } });
      return tablesOf(made).find(({ id }) => id === "lives")?.note ?? "";
    };
    expect(noteOf()).not.toContain("well");
    expect(noteOf(["W-1", "W-2"])).toContain("The wells named narrow runs, hours and failures only");
    expect(noteOf(["W-1"])).toContain("The well named narrows runs");
  });
});

describe("workbook", () => {
  test("numbers are numbers, to the last digit; texts are texts", async () => {
    const sheets = await readSheets(await bytesOf("statement.xlsx"));
    for (const { title, rows } of tablesOf(document)) {
      const tab = [...sheets.values()].find(([first]) => first?.[0] === title);
      expect(tab, title).toBeDefined();
      rows.forEach((row, at) => {
        row.forEach((cell, column) => {
          const value = tab?.[at + 2]?.[column] ?? null;
          if (typeof cell !== "string" && cell.value !== null) expect(value, title).toBe(cell.value);
          else if (said(cell) !== "") expect(String(value).replace(/^'/, "")).toBe(said(cell));
        });
      });
    }
    const figures = sheets.get("Figures in sentences")?.slice(1) ?? [];
    expect(figures.map(([, , value]) => value)).toEqual(figuresOf(document).map(({ value }) => value ?? "not known"));
  });

  test("no cell starts a formula, in any tab or table file", async () => {
    const parts = partsOf(await bytesOf("statement.xlsx"));
    const sheets = await readSheets(await bytesOf("statement.xlsx"));
    expect([...parts.values()].some((xml) => xml.includes("<f>"))).toBe(false);
    for (const cell of [...sheets.values()].flat(2))
      if (typeof cell === "string") expect(cell).not.toMatch(/^[=+@\t\r]/);
    expect(JSON.stringify([...sheets.values()])).toContain("'=1+1");
    expect(await textOf("actions.csv")).toContain("'=1+1");
  });
});

describe("slides", () => {
  test("the summary is there to the word, every picture with its finding, every caution", async () => {
    const slides = readSlides(await bytesOf("statement.pptx"));
    const text = squeezed(slides.map((slide) => slide.text).join(" "));
    for (const sentence of document.summary) expect(text).toContain(squeezed(plainText(sentence)));
    const alternatives = slides.flatMap((slide) => slide.alternatives);
    expect(alternatives).toEqual(picturesOf(document).map(({ finding, result }) => `${finding}. Result ${result}.`));
    for (const block of document.sections.flatMap(({ blocks }) => blocks)) {
      if (block.kind === "caution") for (const item of block.items) expect(text).toContain(squeezed(plainText(item)));
    }
  });
});

describe("tables and pictures as files", () => {
  test("each is in the bundle; SVG parses as XML and holds its finding; PNG is one", async () => {
    const files = unzipSync(await bytesOf("statement.zip"));
    expect(Object.keys(files).sort()).toEqual(
      [
        ...tablesOf(document).map(({ id }) => `tables/${id}.csv`),
        ...picturesOf(document).flatMap(({ id }) => [`pictures/${id}.png`, `pictures/${id}.svg`]),
      ].sort(),
    );
    for (const { id, finding } of picturesOf(document)) {
      const svg = strFromU8(files[`pictures/${id}.svg`] ?? new Uint8Array());
      expect(decoded(svg)).toContain(finding);
      // Every attribute has a value in quotes, every tag is closed: what XML asks for.
      for (const [tag] of svg.matchAll(/<[a-zA-Z][^>]*>/g))
        expect(tag).toMatch(/^<[a-zA-Z]+(\s[a-zA-Z0-9:-]+="[^"]*")*\s?\/?>$/);
      expect([...(files[`pictures/${id}.png`] ?? [])].slice(1, 4)).toEqual([0x50, 0x4e, 0x47]);
    }
  });

  test("a table file holds the numbers whole", async () => {
    const rows = (await textOf("modes.csv")).trim().split("\r\n").slice(1);
    expect(rows).toHaveLength(statement.modes.length);
    statement.modes.forEach(({ rate, failures }, index) => {
      const cells = rows[index]?.split(",") ?? [];
      expect(Number(cells[2])).toBe(failures);
      expect(Number(cells[5])).toBe(rate.value);
    });
  });

  test.each(["statement.docx", "nothing.csv", "rates.gif", "../../etc.csv", "statement", "modes.svg"])(
    "%s is none",
    async (name) => {
      expect(await writeFile(statement, previewIssue, name)).toBeNull();
    },
  );
});

describe("masked names", () => {
  test("occur in no file: text, metadata, alternative texts, ids", async () => {
    const pdf = await bytesOf("statement.pdf");
    const { pages, info } = await readPdf(pdf);
    const everything = [
      await textOf("statement.html"),
      await textOf("statement.json"),
      pages.join("\n"),
      JSON.stringify(info),
      // Streams are packed; what is not, such as metadata, would show.
      new TextDecoder("latin1").decode(pdf),
      ...partsOf(await bytesOf("statement.xlsx")).values(),
      ...partsOf(await bytesOf("statement.pptx")).values(),
      ...Object.entries(unzipSync(await bytesOf("statement.zip"))).map(
        ([name, bytes]) => `${name} ${strFromU8(bytes)}`,
      ),
    ].join("\n");
    const names = Object.values(namesOf(records)).flat();
    expect(names.length).toBeGreaterThan(200);
    expect(names.filter((name) => everything.includes(name))).toEqual([]);
  });
});
