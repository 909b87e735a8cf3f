/** Small drops for the store, read from real bytes by the real intake. All names are invented. */
import { type Mapping, mapDrop, type WordList } from "../../../../analysis/index.ts";
import { readSheet } from "../../../../server/intake/readSheet.ts";
import type { BatchInput } from "../../../../server/storage/store.ts";

const format = { encoding: "utf-8", delimiter: ",", decimal: ".", skipLines: 0, comment: null } as const;

export const runMapping: Mapping = {
  name: "run sheet",
  version: 1,
  fingerprint: "run|serial|out|in|hours|pulled",
  format: { ...format, dateOrder: { Out: "ymd", In: "ymd" } },
  tables: [
    {
      table: "runs",
      columns: {
        run: { from: "Run" },
        serial: { from: "Serial" },
        out_on: { from: "Out" },
        in_on: { from: "In" },
        hours: { from: "Hours" },
        pulled_because: { from: "Pulled", words: "pulled because" },
      },
    },
  ],
  addRows: [],
};

/** One line a build, which renews the main seal: the sheet does not say so, the shop did. */
export const buildMapping: Mapping = {
  name: "build sheet",
  version: 1,
  fingerprint: "build|serial|done|new threads|torque|cycles",
  format: { ...format, dateOrder: { Done: "ymd" } },
  tables: [
    {
      table: "redresses",
      columns: {
        redress: { from: "Build" },
        serial: { from: "Serial" },
        done_on: { from: "Done" },
        reason: { constant: "planned" },
      },
    },
    {
      table: "joints",
      columns: {
        redress: { from: "Build" },
        joint: { constant: "J1" },
        new_thread: { from: "New threads" },
        final_torque_Nm: { from: "Torque" },
        make_break_cycles: { from: "Cycles" },
      },
    },
  ],
  addRows: [
    {
      table: "fitted_items",
      columns: { redress: { from: "Build" }, item: { constant: "main seal" }, renewed: { constant: true } },
      question: "Does a build renew the main seal?",
      statement: "A build renews the main seal.",
      answered: true,
    },
  ],
};

export const fittedMapping: Mapping = {
  name: "items fitted",
  version: 1,
  fingerprint: "build|item|renewed|elastomer",
  format: { ...format, dateOrder: {} },
  tables: [
    {
      table: "fitted_items",
      columns: {
        redress: { from: "Build" },
        item: { from: "Item" },
        renewed: { from: "Renewed" },
        elastomer: { from: "Elastomer" },
      },
    },
  ],
  addRows: [],
};

export const words: WordList = {
  version: 1,
  vocabularies: { "pulled because": { planned: "planned", "tool failed": "tool failure" } },
};

export const runSheet = (...lines: readonly string[]): string =>
  ["Run,Serial,Out,In,Hours,Pulled", ...lines, ""].join("\n");
export const buildSheet = (...lines: readonly string[]): string =>
  ["Build,Serial,Done,New threads,Torque,Cycles", ...lines, ""].join("\n");

export interface TextSheet {
  readonly file: string;
  readonly text: string;
  readonly mapping: Mapping;
}

/** A confirmed drop of sheets given as text. */
export function drop(sheets: readonly TextSheet[], more: Partial<BatchInput> = {}): BatchInput {
  const files = sheets.map(({ file, text }) => ({ file, bytes: new TextEncoder().encode(text) }));
  const wordList = more.words ?? words;
  const mapped = mapDrop({
    words: wordList,
    sheets: sheets.map(({ file, mapping }, index) => ({
      sheet: readSheet(files[index]?.bytes ?? new Uint8Array(), file, mapping.format),
      mapping,
    })),
  });
  return {
    who: "NN",
    when: "2026-01-05T08:00:00.000Z",
    files,
    sheets: mapped.map((sheet, index) => ({ mapped: sheet, mapping: sheets[index]?.mapping ?? runMapping })),
    words: wordList,
    setup: [],
    ...more,
  };
}

export const runDrop = (lines: readonly string[], more: Partial<BatchInput> = {}): BatchInput =>
  drop([{ file: "runs.csv", text: runSheet(...lines), mapping: runMapping }], more);

export const buildDrop = (lines: readonly string[], more: Partial<BatchInput> = {}): BatchInput =>
  drop([{ file: "builds.csv", text: buildSheet(...lines), mapping: buildMapping }], more);

/** Three runs, one of them with a date that does not exist. */
export const firstRuns = [
  "R1,S1,2025-01-02,2025-01-09,96.25,planned",
  "R2,S2,2025-01-03,2025-01-10,,tool failed",
  "R3,S1,2025-02-30,2025-03-04,50,planned",
];
