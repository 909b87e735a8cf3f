// Nineteen invented histories worked through by hand, tests/reference/lives.json: the specification of the derivation.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { deriveLives } from "../../../analysis/lives/deriveLives.ts";
import type { Records } from "../../../analysis/records/descriptor.ts";

interface Case {
  readonly name: string;
  readonly cutoff: string;
  readonly records: Records;
  readonly expected: Readonly<Record<string, readonly (Record<string, unknown> | string)[]>>;
}

const { cases } = JSON.parse(readFileSync(new URL("../../reference/lives.json", import.meta.url), "utf8")) as {
  cases: Case[];
};

/** The notice of the specification as our code: its rows may not differ, its words may. */
const noticeCodes: readonly [RegExp, string][] = [
  [/no run reported since/, "out-but-silent"],
  [/hours missing/, "run-hours-missing"],
  [/duplicate/, "run-duplicate"],
  [/after the cut-off/, "look-after-cutoff"],
  [/lost at/, "lost-cause-unknown"],
  [/tool failure with no item/, "tool-failure-no-item"],
];

const pick = (row: object, keys: readonly string[]) => {
  const values = row as Record<string, unknown>;
  return Object.fromEntries(keys.map((key) => [key, values[key]]));
};
const sorted = (rows: readonly object[]) => rows.map((row) => JSON.stringify(row)).sort();
const columns = {
  lives: ["item", "mode", "since", "kind", "lower", "upper", "entry"],
  noInformationYet: ["item", "mode", "since", "reason"],
  excluded: ["item", "mode", "since", "reason"],
  toolEvents: ["serial", "event", "age"],
  alreadyFailed: ["item", "mode", "teardown"],
} as const;

describe("deriveLives reproduces the hand-worked histories to the row", () => {
  test("there are nineteen", () => expect(cases).toHaveLength(19));

  test.each(cases.map((one) => [one.name, one] as const))("%s", (_name, { records, cutoff, expected }) => {
    const derived = deriveLives(records, { cutoff });
    for (const [list, keys] of Object.entries(columns)) {
      const ours = derived[list as keyof typeof columns].map((row) => pick(row, keys));
      const theirs = (expected[list] ?? []).map((row) => pick(row as object, keys));
      expect(sorted(ours), list).toEqual(sorted(theirs));
    }
    expect(derived.buildRejects).toEqual(expected.buildRejects ?? []);
    const codes = (expected.notices ?? []).map((text) => noticeCodes.find(([words]) => words.test(String(text)))?.[1]);
    expect(derived.notices.map(({ code }) => code).sort()).toEqual(codes.sort());
  });
});
