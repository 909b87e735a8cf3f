import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  fingerprintOf,
  keyOf,
  type Mapping,
  mapRows,
  type Records,
  type TableName,
  tableDescriptors,
  tableNames,
  type WordList,
} from "../../analysis/index.ts";
import { fleetFiles } from "../../datasets/sample-fleet/generator/fleetFiles.ts";
import { cleanFleet, defaultFleet, effectsOn } from "../../datasets/sample-fleet/generator/options.ts";
import { type Fleet, simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { writeSheets } from "../../datasets/sample-fleet/generator/writeSheets.ts";
import { readSheet } from "../../server/intake/readSheet.ts";

const folder = join(import.meta.dirname, "../../datasets/sample-fleet");

/** Rows of every table by key, every field present, so that null, absent and an empty list are one. */
function plainRows(records: Records): Map<string, Record<string, unknown>> {
  const rows = new Map<string, Record<string, unknown>>();
  const add = <T extends TableName>(table: T) => {
    const given: Records[T] = records[table];
    for (const row of given ?? []) {
      const values = new Map(Object.entries(row));
      const fields = tableDescriptors[table].fields.map(({ name }) => {
        const value = values.get(name) ?? null;
        return [name, Array.isArray(value) && value.length === 0 ? null : value];
      });
      const place = `${table} ${keyOf(table, row)}`;
      if (rows.has(place)) throw new Error(`${place} twice`);
      rows.set(place, Object.fromEntries(fields));
    }
  };
  for (const table of tableNames) add(table);
  return rows;
}

/** The real path: bytes to cells, mapping found by fingerprint, cells to rows. */
function throughTheMappings(
  files: readonly { readonly file: string; readonly text: string }[],
  mappings: readonly Mapping[],
  words: WordList,
) {
  const rows = new Map<string, Record<string, unknown>>();
  const problems: {
    readonly code: string;
    readonly line: number;
    readonly file: string;
    readonly column: string | null;
    readonly value: string | null;
  }[] = [];
  let setAside = 0;
  for (const { file, text } of files) {
    const bytes = new TextEncoder().encode(text);
    const fingerprint = fingerprintOf(readSheet(bytes, file).headers);
    const mapping = mappings.find((candidate) => candidate.fingerprint === fingerprint);
    if (mapping === undefined) throw new Error(`no mapping for ${file}`);
    const mapped = mapRows(readSheet(bytes, file, mapping.format), mapping, words);
    setAside += mapped.setAside.length;
    for (const { code, origin, column, value } of mapped.problems)
      problems.push({ code, line: origin.line, file, column, value });
    for (const { rows: ofLine } of mapped.lines) {
      for (const row of ofLine) {
        const values = new Map(Object.entries(row.values));
        const fields = tableDescriptors[row.table].fields.map(({ name }) => [name, values.get(name) ?? null]);
        rows.set(`${row.table} ${row.key}`, Object.fromEntries(fields));
      }
    }
  }
  return { rows, problems, setAside };
}

function throughOwnSheets(fleet: Fleet) {
  const { sheets, mappings, words } = writeSheets(fleet);
  return throughTheMappings(
    sheets,
    mappings.map(({ mapping }) => mapping),
    words,
  );
}

const differences = (
  left: ReadonlyMap<string, Record<string, unknown>>,
  right: ReadonlyMap<string, Record<string, unknown>>,
) => {
  const found: string[] = [];
  for (const [place, row] of left) {
    const other = right.get(place);
    if (other === undefined) found.push(`${place} row missing`);
    else
      for (const [field, value] of Object.entries(row))
        if (JSON.stringify(value) !== JSON.stringify(other[field])) found.push(`${place} ${field}`);
  }
  for (const place of right.keys()) if (!left.has(place)) found.push(`${place} row added`);
  return found.sort();
};

describe("the sample fleet's sheets", { timeout: 60_000 }, () => {
  test("regenerating gives the committed files, byte for byte, and no other file lies beside them", () => {
    const files = fleetFiles();
    for (const [name, text] of files) {
      expect(existsSync(join(folder, name)), name).toBe(true);
      expect(readFileSync(join(folder, name), "utf8") === text, `${name} differs: run npm run datasets`).toBe(true);
    }
    for (const part of ["sheets", "mappings"]) {
      const expected = files
        .filter(([name]) => name.startsWith(`${part}/`))
        .map(([name]) => name.slice(part.length + 1));
      expect(readdirSync(join(folder, part)).sort()).toEqual(expected.sort());
    }
  });

  test("without planted faults, sheets and mappings give back the simulator's records exactly", () => {
    for (const fleet of [
      simulateFleet(cleanFleet),
      simulateFleet({ ...cleanFleet, serials: 24, effects: effectsOn, seed: 7 }),
    ]) {
      const { rows, problems, setAside } = throughOwnSheets(fleet);
      expect(setAside).toBe(0);
      expect(problems).toEqual([]);
      expect(differences(plainRows(fleet.records), rows)).toEqual([]);
    }
  });

  test("the committed sheets and mappings give what was written, and differ from what was true in the planted faults only", () => {
    const fleet = simulateFleet(defaultFleet);
    const committed = (part: string) =>
      readdirSync(join(folder, part)).map((file) => ({ file, text: readFileSync(join(folder, part, file), "utf8") }));
    const mappings = committed("mappings").map(({ text }): Mapping => JSON.parse(text));
    const words: WordList = JSON.parse(readFileSync(join(folder, "words.json"), "utf8"));
    const { rows, problems, setAside } = throughTheMappings(committed("sheets"), mappings, words);

    expect(setAside).toBe(0);
    expect(differences(plainRows(fleet.recorded), rows)).toEqual([]);

    const listed = fleet.planted.filter(({ change }) => change !== "none");
    const planted = new Set(
      listed.map(({ row, column, change }) => `${row.table} ${row.key} ${change === "value" ? column : change}`),
    );
    expect(differences(plainRows(fleet.records), rows)).toEqual([...planted].sort());

    // The one fault that a cell cannot hold as a value is the one the mapping complains about.
    const texts = writeSheets(fleet).planted.filter(({ kind }) => kind === "torque as text");
    expect(texts.length).toBeGreaterThan(10);
    const place = ({ file, line, column }: { file: string | null; line: number | null; column: string | null }) =>
      `${file}:${line} ${column}`;
    expect(problems.map(place).sort()).toEqual(
      texts.map(({ file, line, header }) => place({ file, line, column: header })).sort(),
    );
    expect(problems.every(({ code, value }) => code === "not-a-number" && value === "good tight")).toBe(true);
  });

  test("every planted fault points at its cell: file, line and header hold what it says", () => {
    const fleet = simulateFleet(defaultFleet);
    const { sheets, planted } = writeSheets(fleet);
    const kinds = new Set(planted.map(({ kind }) => kind));
    expect(kinds.size).toBe(23);
    let checked = 0;
    for (const fault of planted) {
      if (fault.change === "row missing") {
        expect(fault.line).toBeNull();
        continue;
      }
      const sheet = sheets.find(({ file }) => file === fault.file);
      const cells = sheet?.text.split("\n")[(fault.line ?? 0) - 1]?.split(sheet.format.delimiter) ?? [];
      const key: readonly string[] = JSON.parse(fault.row.key);
      if (!cells.includes(key[0] ?? "")) throw new Error(`not at its line: ${JSON.stringify(fault)}`);
      if (fault.change !== "value") continue;
      const cell = cells[sheet?.headers.findIndex(({ name }) => name === fault.header) ?? -1];
      expect(cell, JSON.stringify(fault)).toBeDefined();
      if (fault.kind === "torque as text") expect(cell).toBe("good tight");
      if (fault.kind === "hours missing") expect(cell).toBe("");
      if (fault.kind === "zero hours") expect(cell).toBe("0 h");
      if (fault.kind === "degC in a degF column") expect(Number(cell)).toBeLessThan(170);
      checked++;
    }
    expect(checked).toBeGreaterThan(400);
  });

  test("the data package names every sheet with its columns, says that all is invented, and under which licence", () => {
    const described = JSON.parse(readFileSync(join(folder, "datapackage.json"), "utf8"));
    expect(described.title).toContain("INVENTED");
    expect(described.licenses[0].name).toBe("CC0-1.0");
    for (const resource of described.resources) {
      const text = readFileSync(join(folder, resource.path));
      const headers = readSheet(text, resource.path).headers;
      expect(resource.schema.fields.map(({ name }: { name: string }) => name)).toEqual(headers);
    }
    expect(described.resources.length).toBe(readdirSync(join(folder, "sheets")).length);
  });
});
