// "A rebuild here renews ...", answered otherwise than proposed: the rows and the printed statement follow each other.
import { expect, test } from "vitest";
import { renewalsOf, withRenewals } from "../../../analysis/records/editAddedRows.ts";
import type { AddedRows, ColumnRule } from "../../../analysis/records/mapping.ts";

const asked = (members: readonly (readonly [string, ColumnRule])[], statement: string): AddedRows => ({
  table: "fitted_items",
  columns: { redress: { from: "Redress" } },
  members: members.map(([item, renewed]) => ({ item: { constant: item }, renewed })),
  question: "",
  statement,
  answered: true,
});
const rebuild = asked(
  [
    ["main seal", { constant: true }],
    ["mandrel", { constant: false }],
    ["J1", { from: "New thread 1", words: "yes or no" }],
  ],
  "A rebuild renews main seal.",
);
const whenNew: ColumnRule = { pattern: "^(New)$", of: "Why", becomes: { New: "yes" }, words: "yes or no" };
const build = asked(
  [
    ["main seal", whenNew],
    ["mandrel", whenNew],
  ],
  "A new build renews main seal, mandrel.",
);

test("a statement is read item by item, with the column that tells where one does", () => {
  expect(renewalsOf(rebuild)).toEqual([
    { item: "main seal", renewal: "renewed", column: null },
    { item: "mandrel", renewal: "carried over", column: null },
    { item: "J1", renewal: "as the column says", column: "New thread 1" },
  ]);
  expect(renewalsOf(build).map(({ renewal }) => renewal)).toEqual(["on a new build", "on a new build"]);
});

test("other answers change rows and statement together, and have to be confirmed", () => {
  const edited = withRenewals(rebuild, { "main seal": "carried over", mandrel: "renewed", J1: "renewed" });
  expect(edited.members?.map(({ renewed }) => renewed)).toEqual([
    { constant: false },
    { constant: true },
    { constant: true },
  ]);
  expect(edited.statement).toBe("A rebuild renews mandrel, J1; it carries over main seal.");
  expect(edited.question).toBe("A rebuild renews mandrel, J1; it carries over main seal; is that so?");
  expect(edited.answered).toBe(false);
});

test("an item left as proposed keeps its rule, the column that tells of its thread among them", () => {
  const edited = withRenewals(rebuild, { mandrel: "carried over" });
  expect(edited.members).toEqual(rebuild.members);
  expect(edited.statement).toBe(
    'A rebuild renews main seal; it renews J1 where "New thread 1" says so; it carries over mandrel.',
  );
});

test("an item that a new build does not renew is left to what a rebuild does", () => {
  const edited = withRenewals(build, { mandrel: "carried over" });
  expect(edited.members).toHaveLength(1);
  expect(edited.statement).toBe("A new build renews main seal.");
  expect(withRenewals(build, { "main seal": "carried over", mandrel: "carried over" }).statement).toBe(
    "A new build renews what a rebuild renews.",
  );
});

test("items that only some tool types have are known by what the pattern becomes", () => {
  const item: ColumnRule = { pattern: "^(AD)", of: "Tool", becomes: { AD: "stack" } };
  const added: AddedRows = { ...rebuild, members: [{ item, renewed: { constant: true } }] };
  expect(withRenewals(added, { stack: "carried over" }).members).toEqual([{ item, renewed: { constant: false } }]);
});
