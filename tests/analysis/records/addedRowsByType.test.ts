import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { defaultWords } from "../../../analysis/records/defaultWords.ts";
import { keyOf, type Row, type TableName } from "../../../analysis/records/descriptor.ts";
import { previewDrop } from "../../../analysis/records/previewDrop.ts";
import { readSheet } from "../../../server/intake/readSheet.ts";

const sheets = ["builds.csv", "jobs.csv", "strip.txt"].map((file) => {
  const bytes = new Uint8Array(readFileSync(new URL(`../../../datasets/other-shop/${file}`, import.meta.url)));
  return { sheet: readSheet(bytes, file), bytes: bytes.length };
});

/** A shop that already keeps a tool type of another kind, whose joints have the same names and are written down. */
const stored = [
  row("tools", { serial: "AD-1", tool_type: "axial damper" }),
  row("tool_items", { tool_type: "axial damper", item: "J1", kind: "joint" }),
  row("redresses", { redress: "R1", serial: "AD-1", done_on: "2024-01-01", reason: "new" }),
  row("fitted_items", { redress: "R1", item: "J1", renewed: true }),
];
function row<T extends TableName>(table: T, values: Row<T>) {
  return { table, key: keyOf(table, values), values };
}

test("what a build renews is asked for each tool type: J1 of another type tells nothing", () => {
  const askedAbout = (rows: typeof stored) => {
    const { files } = previewDrop({ sheets, remembered: [], words: defaultWords, stored: rows, answers: {} });
    return files.flatMap(({ mapping }) => mapping.addRows.map(({ statement }) => statement)).join(" ");
  };
  expect(askedAbout([])).toMatch(/\bJ1\b/);
  expect(askedAbout(stored)).toMatch(/\bJ1\b/);
});
