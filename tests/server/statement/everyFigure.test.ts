// Every figure of a statement, three ways: its value stands in the result that it names, asked for anew; its words say that
// value to the last digit they show; and its words stand in paper, slides and workbook as read back by other libraries.
import { beforeAll, expect, test } from "vitest";
import {
  plainText,
  planStatement,
  runStudy,
  type StatementDefinition,
  type StatementDocument,
  type StatementResult,
  statementDocument,
} from "../../../analysis/index.ts";
import { resultHash } from "../../../analysis/statement/statementLife.ts";
import { figuresOf } from "../../../server/statement/figuresOf.ts";
import { previewIssue } from "../../../server/statement/issue.ts";
import { picturesOf, tablesOf } from "../../../server/statement/picturesOf.ts";
import { writeFile } from "../../../server/statement/writeFile.ts";
import { readPdf, readSheets, readSlides, squeezed } from "../../support/statement/readBack.ts";
import { context, shopOf, spells, statementOf } from "../../support/statementShop.ts";

const records = shopOf([
  ...spells(60, { nth: 3, run: { mud: "oil base" } }),
  ...spells(60, { from: "2025-03-04", nth: 10, run: { mud: "water base" } }),
]);
const asked: Partial<StatementDefinition> = {
  kind: "before and after",
  change: { what: "harder seal", on: "2025-03-01", countedFrom: null, appliesTo: "runs" },
  incidentRun: "RUN-B-0033",
  asked: ["mean time between failures", "failures a month"],
  customerDefinition: { thresholds: { wear: 4 }, hoursKind: null },
  actions: [{ what: "Fit with a sleeve", item: "main seal", mode: "wear", state: "open", on: "2025-12-01" }],
  runHours: 55,
};

interface Said {
  readonly text: string;
  readonly value: number | null;
  readonly result: string;
}
let statement: StatementResult;
let document: StatementDocument;
let said: readonly Said[];
let sentences: readonly string[];
const bytesOf = async (name: string): Promise<Uint8Array> =>
  new Uint8Array((await writeFile(statement, previewIssue, name))?.bytes ?? []);

beforeAll(() => {
  statement = statementOf(records, asked);
  document = statementDocument(statement);
  said = [
    ...figuresOf(document),
    ...tablesOf(document).flatMap(({ rows, result }) =>
      rows.flat().flatMap((cell) => (typeof cell === "string" ? [] : [{ ...cell, result }])),
    ),
  ];
  sentences = [
    ...document.summary,
    ...document.sections.flatMap(({ blocks }) =>
      blocks.flatMap((block) =>
        block.kind === "paragraph"
          ? [block.text]
          : block.kind === "list" || block.kind === "caution"
            ? block.items
            : [],
      ),
    ),
  ].map(plainText);
});

test("there is every kind of section to compare", () => {
  expect(document.sections.map(({ id }) => id)).toEqual([
    "change",
    "population",
    "definition",
    "modes",
    "survival",
    "runs",
    "trend",
    "groups",
    "incident",
    "causes",
    "cautions",
    "method",
  ]);
  expect(said.filter(({ value }) => value !== null).length).toBeGreaterThan(150);
});

test("its value stands in the result that it names, asked for anew", () => {
  const definition = { ...statement.definition, ...asked } as StatementDefinition;
  const { pictures: _drawn, ...own } = statement;
  const results = new Map<string, object>([
    [resultHash(statement), own],
    ...planStatement(definition, records, context, null).map(({ study }): [string, object] => {
      const result = runStudy(study, records, context);
      return [resultHash(result), result];
    }),
  ]);
  const numbersOf = new Map([...results].map(([hash, result]) => [hash, numbersIn(result)]));
  // "At least 31.8 % fewer" is what the upper bound of the ratio leaves.
  const fewer = (statement.beforeAfter?.comparisons ?? []).map(({ ratio }) => 100 * (1 - (ratio.upper ?? 0)));
  const strays = said.filter(
    ({ value, result, text }) =>
      value !== null &&
      !numbersOf.get(result)?.has(value) &&
      !(result === resultHash(statement) && text.endsWith("%") && fewer.includes(value)),
  );
  expect(strays).toEqual([]);
});

test("its words say that value to the last digit they show", () => {
  const wrong = said.filter(({ text, value }) => value !== null && !saysValue(text, value));
  expect(wrong).toEqual([]);
});

test("paper holds every sentence, heading, note and cell", async () => {
  const text = squeezed((await readPdf(await bytesOf("statement.pdf"))).pages.join(""))
    // What stands on every page comes between the halves of what a page breaks.
    .replace(/Preview·content[0-9a-f]{16}Page\d+of\d+/g, "");
  const expected = [
    document.title,
    document.subtitle,
    ...sentences,
    ...document.sections.map(({ title }) => title),
    ...picturesOf(document).map(({ finding }) => finding),
    ...tablesOf(document).flatMap(({ title, columns, note }) => [
      title,
      ...columns.map((column) => column.title),
      note ?? "",
    ]),
    ...said.map((one) => one.text),
  ];
  expect(expected.filter((one) => !text.includes(squeezed(one)))).toEqual([]);
  for (const { rows } of tablesOf(document))
    for (const row of rows)
      expect(text).toContain(squeezed(row.map((cell) => (typeof cell === "string" ? cell : cell.text)).join("")));
});

test("the workbook holds every figure of a sentence with its value, its words and its result", async () => {
  const sheets = await readSheets(await bytesOf("statement.xlsx"));
  const rows = sheets.get("Figures in sentences")?.slice(1) ?? [];
  expect(rows.map(([, text, value, result]) => ({ text, value, result }))).toEqual(
    figuresOf(document).map(({ text, value, result }) => ({ text, value: value ?? "not known", result })),
  );
  const short = (sheets.get("In short") ?? []).flat().join("\n");
  expect(document.summary.map(plainText).filter((sentence) => !short.includes(sentence))).toEqual([]);
});

test("slides hold every figure of the summary and of the findings", async () => {
  const text = squeezed(
    readSlides(await bytesOf("statement.pptx"))
      .map((slide) => slide.text)
      .join(" "),
  );
  const expected = [...document.summary.map(plainText), ...picturesOf(document).map(({ finding }) => finding)];
  expect(expected.filter((one) => !text.includes(squeezed(one)))).toEqual([]);
});

/** All numbers of a result, and each as per cent, for a share is said in per cent. */
function numbersIn(result: unknown): ReadonlySet<number> {
  const numbers = new Set<number>();
  const walk = (value: unknown): void => {
    if (typeof value === "number") numbers.add(value).add(100 * value);
    else if (value !== null && typeof value === "object") Object.values(value).forEach(walk);
  };
  walk(result);
  return numbers;
}

/** Whether the first number of a text is the value, or the value in per cent, rounded to the digits shown. */
function saysValue(text: string, value: number): boolean {
  if (value === 0 && /^no /.test(text)) return true;
  const [, edge, shown = ""] = /^(below |over )?\D*?(−?[\d,]*\.?\d+)/.exec(text) ?? [];
  const number = Number(shown.replaceAll(",", "").replace("−", "-"));
  if (edge === "below ") return value < number;
  if (edge === "over ") return value > number || 100 * value > number;
  const [whole = "", part] = shown.replace("−", "").split(".");
  // Three digits at least are shown, and all of those before the point that are not zero: "1,230 h".
  const digits = whole.replaceAll(",", "");
  const zeros = /0*$/.exec(digits)?.[0].length ?? 0;
  const step = part === undefined ? 10 ** Math.max(0, Math.min(zeros, digits.length - 3)) : 10 ** -part.length;
  const scale = / %/.test(text.slice(0, text.indexOf(shown) + shown.length + 2)) ? [1, 100] : [1];
  return scale.some((times) => Math.abs(number - times * value) <= step / 2 + 1e-9 * Math.abs(number));
}
