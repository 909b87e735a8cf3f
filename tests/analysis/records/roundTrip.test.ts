import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  AnalysisError,
  convertUnit,
  defaultWords,
  fingerprintOf,
  type Mapping,
  mapRows,
  previewDrop,
  proposeMapping,
} from "../../../analysis/index.ts";
import { readSheet } from "../../../server/intake/readSheet.ts";

const headers = ["Run", "Serial", "Out", "Back", "Hours", "BHT (°F)", "Customer", "Why pulled"] as const;

interface Run {
  readonly serial: string;
  readonly out: number;
  readonly days: number;
  readonly hours: number | null;
  readonly fahrenheit: number | null;
  readonly customer: string | null;
  readonly pulled: string;
}

// Letters, spaces, umlauts and everything that could be mistaken for structure. A cell of dashes alone would be blank.
const phrase = fc
  .stringMatching(/^[A-Za-zÄÖÜäöüß][A-Za-zäöü0-9;,|"#'/ .\n\t-]{0,18}[a-z]$/)
  .filter((text) => !/^n\/?\.?a$/i.test(text));

const run: fc.Arbitrary<Run> = fc.record({
  serial: fc.stringMatching(/^[A-Z]{2}[0-9]{3}-[0-9]{2}$/),
  out: fc.integer({ min: 0, max: 1500 }),
  days: fc.integer({ min: 0, max: 40 }),
  hours: fc.option(fc.integer({ min: 1, max: 9999 }).map((tenths) => tenths / 10)),
  fahrenheit: fc.option(fc.integer({ min: 60, max: 400 })),
  customer: fc.option(phrase),
  pulled: fc.constantFrom("planned", "tool failure", "other tool", "hole problem", "lost in hole", "not known"),
});

const layout = fc.record({
  delimiter: fc.constantFrom(",", ";", "\t", "|"),
  decimal: fc.constantFrom(".", ","),
  encoding: fc.constantFrom("utf8", "latin1", "mark", "utf16le"),
  lineEnd: fc.constantFrom("\n", "\r\n"),
  order: fc.constantFrom("ymd", "dmy", "mdy"),
  sign: fc.constantFrom(".", "/", "-"),
  comment: fc.boolean(),
  title: fc.boolean(),
  unitInCell: fc.boolean(),
});

type Layout = typeof layout extends fc.Arbitrary<infer L> ? L : never;

const isoDate = (days: number): string => new Date(Date.UTC(2022, 0, 1) + days * 86_400_000).toISOString().slice(0, 10);

function writtenDate(days: number, { order, sign }: Layout): string {
  const [year, month, day] = isoDate(days).split("-");
  if (order === "ymd") return [year, month, day].join("-");
  return (order === "dmy" ? [day, month, year] : [month, day, year]).join(sign);
}

function bytesOf(runs: readonly Run[], how: Layout): Uint8Array {
  const number = (value: number | null) => (value === null ? "" : String(value).replace(".", how.decimal));
  const quoted = (cell: string) => (/[;,|\t"\n\r#]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  const lines = runs.map((each, i) =>
    [
      `R-${i + 1}`,
      each.serial,
      writtenDate(each.out, how),
      writtenDate(each.out + each.days, how),
      each.hours === null ? "" : `${number(each.hours)}${how.unitInCell ? " h" : ""}`,
      number(each.fahrenheit),
      each.customer ?? "",
      each.pulled === "not known" ? "" : each.pulled,
    ]
      .map(quoted)
      .join(how.delimiter),
  );
  const text = [
    ...(how.comment ? ["# exported"] : []),
    ...(how.title ? ["Run log"] : []),
    headers.join(how.delimiter),
    ...lines,
    "",
  ].join(how.lineEnd);
  if (how.encoding === "utf16le") return Uint8Array.from(Buffer.from(`\ufeff${text}`, "utf16le"));
  if (how.encoding === "latin1") return Uint8Array.from(Buffer.from(text, "latin1"));
  return new TextEncoder().encode(`${how.encoding === "mark" ? "\ufeff" : ""}${text}`);
}

/** Two runs that decide date order and decimal sign, whatever else is drawn. */
const deciding: readonly Run[] = [
  { serial: "AA000-00", out: 30, days: 20, hours: 12.5, fahrenheit: 200, customer: null, pulled: "planned" },
  { serial: "AA000-00", out: 85, days: 3, hours: 33.5, fahrenheit: 200, customer: null, pulled: "planned" },
];

describe("a run log written any way", { timeout: 60_000 }, () => {
  test("is read back to equal rows, under the mapping proposed for it", () => {
    fc.assert(
      fc.property(fc.array(run, { maxLength: 12 }), layout, (drawn, how) => {
        const runs = [...deciding, ...drawn];
        const sheet = readSheet(bytesOf(runs, how), "run log.csv");
        expect(sheet.headers).toEqual(headers);
        const { mapping } = proposeMapping(sheet, defaultWords);
        const mapped = mapRows(sheet, mapping, defaultWords);
        expect(mapped.problems).toEqual([]);
        const rows = mapped.lines.flatMap((line) => line.rows.map((row) => row.values));
        expect(rows).toEqual(
          runs.map((each, i) => ({
            run: `R-${i + 1}`,
            serial: each.serial,
            out_on: isoDate(each.out),
            in_on: isoDate(each.out + each.days),
            hours: each.hours,
            max_temperature_C: each.fahrenheit === null ? null : convertUnit(each.fahrenheit, "°F", "°C"),
            customer: each.customer === null ? null : each.customer.replace(/\s+/g, " ").trim(),
            pulled_because: each.pulled,
          })),
        );
      }),
      { numRuns: 120, seed: 7 },
    );
  });
});

const inLines = (bytes: Uint8Array): number =>
  Buffer.from(bytes)
    .toString("latin1")
    .split(/\r\n|\n|\r/).length;

describe("any bytes", { timeout: 60_000 }, () => {
  const fuzz = fc.oneof(
    fc.uint8Array({ maxLength: 400 }),
    fc
      .array(
        fc.constantFrom(
          "a",
          "1",
          ",",
          ";",
          '"',
          "\n",
          "\r",
          "\t",
          "#",
          "|",
          " ",
          "Serial",
          "Date",
          "05/03/2025",
          "1,5",
          "__proto__",
          "é",
        ),
        { maxLength: 120 },
      )
      .map((parts) => new TextEncoder().encode(parts.join(""))),
  );

  test("are refused with a code, or every line is accounted for; nothing crashes", () => {
    fc.assert(
      fc.property(fuzz, (bytes) => {
        let sheet: ReturnType<typeof readSheet>;
        try {
          sheet = readSheet(bytes, "fuzz.csv");
        } catch (error) {
          expect(error).toBeInstanceOf(AnalysisError);
          return;
        }
        expect(sheet.rows.every((row, i) => row.line > (sheet.rows[i - 1]?.line ?? sheet.headerLine))).toBe(true);
        expect(sheet.rows.at(-1)?.line ?? 1).toBeLessThanOrEqual(inLines(bytes));
        expect(readSheet(bytes, "fuzz.csv", sheet.format)).toEqual(sheet);
        const reading = previewDrop({
          sheets: [{ sheet, bytes: bytes.length }],
          remembered: [],
          words: { version: 0, vocabularies: {} },
          stored: [],
          answers: {},
        });
        const { counts } = reading;
        expect(counts.lines).toBe(sheet.rows.length);
        expect(counts.new + counts.unchanged + counts.changed + counts.setAside).toBe(counts.lines);
      }),
      { numRuns: 300, seed: 11 },
    );
  });
});

test("every line of a damaged log lands in exactly one place, whatever cells are struck or moved", {
  timeout: 60_000,
}, () => {
  const damage = fc.array(
    fc.tuple(fc.nat(40), fc.nat(9), fc.constantFrom("", "??", "31.02.2025", "good tight", "x;y", "-5", "1e999")),
    { maxLength: 12 },
  );
  fc.assert(
    fc.property(fc.array(run, { minLength: 1, maxLength: 12 }), damage, (drawn, hits) => {
      const clean = readSheet(
        bytesOf([...deciding, ...drawn], {
          delimiter: ";",
          decimal: ".",
          encoding: "utf8",
          lineEnd: "\n",
          order: "dmy",
          sign: ".",
          comment: false,
          title: false,
          unitInCell: true,
        }),
        "run log.csv",
      );
      const rows = clean.rows.map((row, i) => ({
        ...row,
        cells: hits
          .filter(([at]) => at % clean.rows.length === i)
          .reduce<readonly string[]>((cells, [, column, text]) => cells.with(column, text), [...row.cells, "", ""]),
      }));
      const sheet = {
        ...clean,
        rows: rows.map((row) => ({ ...row, cells: row.cells.slice(0, row.cells[9] === "" ? 8 : 10) })),
      };
      const mapping: Mapping = {
        ...proposeMapping(clean, defaultWords).mapping,
        fingerprint: fingerprintOf(sheet.headers),
      };
      const mapped = mapRows(sheet, mapping, defaultWords);
      const places = [...mapped.lines, ...mapped.setAside].map(({ line }) => line).sort((a, b) => a - b);
      expect(places).toEqual(sheet.rows.map(({ line }) => line));
      for (const { line, cells } of mapped.setAside)
        expect(cells).toEqual(sheet.rows.find((row) => row.line === line)?.cells);
    }),
    { numRuns: 100, seed: 13 },
  );
});
