// A reader who writes 1 234,5 gets every number so, in every medium, and the same values as one who writes 1,234.5.
import { strFromU8, unzipSync } from "fflate";
import { beforeAll, describe, expect, test } from "vitest";
import { type StatementResult, statementDocument, withDecimalMark } from "../../../analysis/index.ts";
import { previewIssue } from "../../../server/statement/issue.ts";
import { tablesOf } from "../../../server/statement/picturesOf.ts";
import { writeFile } from "../../../server/statement/writeFile.ts";
import { decoded, readPdf, readSheets, readSlides } from "../../support/statement/readBack.ts";
import { shopOf, spells, statementOf } from "../../support/statementShop.ts";

describe("a text", () => {
  test.each([
    ["2.5 per 1,000 h (0.43–12.4, 90 %)", "2,5 per 1\u00A0000 h (0,43–12,4; 90 %)"],
    ["12,345,678.25 h; −0.5", "12\u00A0345\u00A0678,25 h; −0,5"],
    ["No. 7.1.2, engine 0.3.2, 8.2.3.4.", "No. 7.1.2, engine 0.3.2, 8.2.3.4."],
    ["Biometrika 28, 437-442. Crew-1.5 and W-12/3.4", "Biometrika 28, 437-442. Crew-1.5 and W-12/3.4"],
    ["A1,000 and 4 3/4 in, 5 Mar 2024, 12 runs, 90 %", "A1,000 and 4 3/4 in, 5 Mar 2024, 12 runs, 90 %"],
    ["It is 0.5. Then 1,000, and 3.5.", "It is 0,5. Then 1\u00A0000, and 3,5."],
  ])("%s", (text, said) => {
    expect(withDecimalMark(text, "comma")).toBe(said);
    expect(withDecimalMark(text, "point")).toBe(text);
  });
});

describe("a statement", () => {
  const records = shopOf([...spells(60, { nth: 3 }), ...spells(60, { from: "2025-03-04", nth: 10 })]);
  const asked = {
    kind: "before and after",
    change: { what: "harder seal", on: "2025-03-01", countedFrom: null, appliesTo: "runs" },
    asked: ["mean time between failures"],
    incidentRun: "RUN-B-0033",
  } as const;
  let comma: StatementResult;
  let point: StatementResult;
  const bytesOf = async (name: string, statement = comma): Promise<Uint8Array> =>
    new Uint8Array((await writeFile(statement, previewIssue, name))?.bytes ?? []);
  beforeAll(() => {
    comma = statementOf(records, { ...asked, decimalMark: "comma" });
    point = statementOf(records, asked);
  });
  /** Numbers with a point, or a thousands comma, in a text: clauses, versions and hashes are none. */
  const pointed = (text: string): readonly string[] =>
    [
      ...text.matchAll(
        /(?<![\p{L}\d.,_/-])(?:[1-9]\d{0,2}(?:,\d{3})+(?![\d,])|\d+\.\d+)(?![\p{L}\d]|\.\d)(?:[^\n]{0,20})/gu,
      ),
    ].map(([found]) => found);

  test("no number has a point or a thousands comma: page, paper, slides, pictures", async () => {
    const page = new TextDecoder().decode(await bytesOf("statement.html"));
    const body = page.slice(page.indexOf("<body>"));
    const texts = [
      decoded([...body.matchAll(/(?<=>)[^<]+(?=<)/g)].join("\n")),
      (await readPdf(await bytesOf("statement.pdf"))).pages.join("\n"),
      readSlides(await bytesOf("statement.pptx"))
        .flatMap(({ text, alternatives }) => [text, ...alternatives])
        .join("\n"),
      ...Object.entries(unzipSync(await bytesOf("statement.zip")))
        .filter(([name]) => name.endsWith(".svg"))
        .map(([, bytes]) => [...strFromU8(bytes).matchAll(/(?<=>)[^<]+(?=<)/g)].join("\n")),
    ];
    for (const text of texts) {
      expect(text).toMatch(/\d[,\u00A0]\d/);
      expect(pointed(text)).toEqual([]);
    }
    // The same check finds them where the reader writes a point.
    expect(pointed((await readPdf(await bytesOf("statement.pdf", point))).pages.join("\n")).length).toBeGreaterThan(50);
  });

  test("values are the same: in the workbook they are numbers, whatever they look like", async () => {
    const numbers = async (statement: StatementResult) =>
      [...(await readSheets(await bytesOf("statement.xlsx", statement))).values()]
        .flat(2)
        .filter((cell) => typeof cell === "number");
    expect(await numbers(comma)).toEqual(await numbers(point));
    const cells = (statement: StatementResult) =>
      tablesOf(statementDocument(statement)).map(({ rows }) =>
        rows.flat().flatMap((cell) => (typeof cell === "string" ? [] : [cell.value])),
      );
    expect(cells(comma)).toEqual(cells(point));
  });
});
