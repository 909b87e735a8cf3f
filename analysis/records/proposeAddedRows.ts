import type { SetupRow } from "./drop.ts";
import { lookUpWord } from "./lookUpWord.ts";
import type { AddedRows, ColumnRule, Mapping, SheetCells, TableMapping, WordList } from "./mapping.ts";
import type { ItemKind } from "./modeCatalogue.ts";
import type { OpenFitted } from "./proposeTables.ts";
import { serialPattern } from "./serialPattern.ts";

type Rules = Readonly<Record<string, ColumnRule>>;
type Values = SetupRow["values"];

export interface AddedRowsInput {
  readonly sheet: SheetCells;
  readonly mapping: Mapping;
  readonly words: WordList;
  readonly openFitted: Readonly<OpenFitted>;
  /** Items and tools: stored, in the drop, or proposed. */
  readonly items: readonly Values[];
  readonly tools: readonly Values[];
  /** Items (by `coveredName`) of which sheets or store say, build by build, whether they were renewed. */
  readonly covered: ReadonlySet<string>;
}

/** An item of a tool type as one text: J1 of one tool type says nothing of J1 of another. */
export const coveredName = (toolType: unknown, item: unknown): string => JSON.stringify([toolType ?? null, item]);

/** What a rebuild usually renews. Common practice, no source; asked, never taken for granted. */
const renewedByRebuild: ReadonlySet<ItemKind> = new Set(["seal", "stack", "pin", "guide"]);

/**
 * Proposes the rows that say what a build renewed, where the build sheet itself does not: a new build renews every
 * item, a rebuild the seals, stacks, pins and guides; a joint is renewed where its thread is new, a body is carried
 * over. Nothing is derived until a person has answered.
 *
 * @returns Nothing for a sheet without builds, or where other records already tell.
 */
export function proposeAddedRows(input: AddedRowsInput): readonly AddedRows[] {
  const { mapping, openFitted } = input;
  const builds = mapping.tables.find((table) => table.table === "redresses");
  const redress = builds?.columns.redress ?? openFitted.listed?.columns.redress;
  if (redress === undefined) return [];
  const listed = openFitted.listed === null ? [] : [asked(openFitted.listed, "Every item on this sheet was renewed.")];
  const serial = builds?.columns.serial;
  const list = mapping.tables.find((table) => table.table === "fitted_items" && table.list !== undefined);
  const items = uniqueItems(
    itemsOfSheet(input, serial).filter(
      ({ tool_type, item }) => list !== undefined || !input.covered.has(coveredName(tool_type, item)),
    ),
  );
  if (builds === undefined || items.length === 0) return listed;

  const serialHeader = serial !== undefined && "from" in serial ? serial.from : null;
  const nameRule = (name: string) => itemRule(name, input, serialHeader);
  const more = (name: string): Rules => openFitted.byItem.get(name) ?? {};
  const member = (name: string, renewed: ColumnRule): Rules => ({ ...more(name), item: nameRule(name), renewed });
  const columns = { redress };

  if (list !== undefined) {
    const carried = {
      table: "fitted_items",
      columns,
      members: items.map(({ name }) => member(name, { constant: false })),
    } as const;
    return [...listed, asked(carried, `What "${list.list?.from}" does not name was carried over.`)];
  }
  const newBuild = newBuildRule(builds, input);
  const whole =
    newBuild === null
      ? []
      : [
          asked(
            { table: "fitted_items", columns, members: items.map(({ name }) => member(name, newBuild)) },
            `A new build renews ${items.map(({ name }) => name).join(", ")}.`,
          ),
        ];
  const threads = threadRules(mapping);
  const rebuild: TableMapping = {
    table: "fitted_items",
    columns,
    members: items.map(({ name, kind }) => member(name, threads.get(name) ?? { constant: renewedByRebuild.has(kind) })),
  };
  return [...listed, ...whole, asked(rebuild, rebuildStatement(items, threads))];
}

const asked = (table: TableMapping, statement: string): AddedRows => ({
  ...table,
  question: `${statement.replace(/\.$/, "")}; is that so?`,
  statement,
  answered: false,
});

/** The items of the tool types that the sheet's serials belong to; all where that is not known. */
function itemsOfSheet({ sheet, items, tools }: AddedRowsInput, serial: ColumnRule | undefined): readonly Values[] {
  const index = serial !== undefined && "from" in serial ? sheet.headers.indexOf(serial.from) : -1;
  const serials = new Set(sheet.rows.map((row) => (row.cells[index] ?? "").trim()));
  const types = new Set(tools.filter((tool) => serials.has(String(tool.serial))).map((tool) => tool.tool_type));
  return types.size === 0 ? items : items.filter((item) => types.has(item.tool_type));
}

interface ItemName {
  readonly name: string;
  readonly kind: ItemKind;
}

function uniqueItems(items: readonly Values[]): readonly ItemName[] {
  const found = new Map<string, ItemName>();
  for (const { item, kind } of items) {
    if (typeof item === "string" && !found.has(item)) found.set(item, { name: item, kind: kind as ItemKind });
  }
  return [...found.values()];
}

function rebuildStatement(items: readonly ItemName[], threads: ReadonlyMap<string, ColumnRule>): string {
  const names = (test: (item: ItemName) => boolean) => items.filter(test).map((item) => item.name);
  const byThread = names(({ name }) => threads.has(name));
  const renewed = names(({ name, kind }) => !threads.has(name) && renewedByRebuild.has(kind));
  const carried = names(({ name, kind }) => !threads.has(name) && !renewedByRebuild.has(kind));
  const parts = [
    renewed.length === 0 ? "renews no seal" : `renews ${renewed.join(", ")}`,
    byThread.length === 0 ? "" : `renews ${byThread.join(", ")} where the thread is new`,
    carried.length === 0 ? "" : `carries over ${carried.join(", ")}`,
  ];
  return `A rebuild ${parts.filter((part) => part !== "").join("; it ")}.`;
}

/** The item's name as a rule: constant, or only on serials of the tool types that have it. */
function itemRule(name: string, { items, tools }: AddedRowsInput, serialHeader: string | null): ColumnRule {
  const types = new Set(items.filter((each) => each.item === name).map((each) => each.tool_type));
  const prefixOf = (tool: Values) => serialPattern(String(tool.serial)).prefix;
  const having = new Set(tools.filter((tool) => types.has(tool.tool_type)).map(prefixOf));
  const lacking = new Set(tools.filter((tool) => !types.has(tool.tool_type)).map(prefixOf));
  const told = [...having].filter((prefix) => /^\p{L}+$/u.test(prefix));
  const distinct = told.length === having.size && told.every((prefix) => !lacking.has(prefix));
  if (serialHeader === null || lacking.size === 0 || !distinct || told.length === 0) return { constant: name };
  return {
    pattern: `^(${told.join("|")})(?:[^a-z]|$)`,
    of: serialHeader,
    becomes: Object.fromEntries(told.map((prefix) => [prefix, name])),
  };
}

/** Yes where the build's reason is one of the shop's words for a new build; null where the sheet has none. */
function newBuildRule(builds: TableMapping, { sheet, words }: AddedRowsInput): ColumnRule | null {
  const reason = builds.columns.reason;
  if (reason === undefined || !("from" in reason)) return null;
  const index = sheet.headers.indexOf(reason.from);
  const written = new Set(sheet.rows.map((row) => (row.cells[index] ?? "").trim()));
  const phrases = [...written].filter((cell) => cell !== "" && lookUpWord(words, "redress reasons", cell) === "new");
  const pattern = `^(${phrases.map((phrase) => phrase.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&")).join("|")})$`;
  if (phrases.length === 0 || pattern.length > 200) return null;
  return {
    pattern,
    of: reason.from,
    becomes: Object.fromEntries(phrases.map((phrase) => [phrase, "yes"])),
    words: "yes or no",
  };
}

/** The column that says whether a joint's thread is new, by joint. */
function threadRules(mapping: Mapping): ReadonlyMap<string, ColumnRule> {
  const rules = new Map<string, ColumnRule>();
  for (const table of mapping.tables) {
    if (table.table !== "joints") continue;
    for (const member of table.members ?? []) {
      const joint = member.joint;
      const thread = member.new_thread ?? table.columns.new_thread;
      if (joint !== undefined && "constant" in joint && thread !== undefined) rules.set(String(joint.constant), thread);
    }
  }
  return rules;
}
