import type { ChosenMapping } from "./chooseMapping.ts";
import { type TableName, tableDescriptors } from "./descriptor.ts";
import type { DropInput, SetupRow } from "./drop.ts";
import {
  type Confirmation,
  type DateOrder,
  type Mapping,
  nameOfSheet,
  type ProposedWord,
  type SheetCells,
  type VocabularyName,
} from "./mapping.ts";
import { shapeId } from "./shapeId.ts";

type Answers = DropInput["answers"];

/**
 * Everything a person has to confirm before a drop can be stored. Ids stay the same as long as the question does: they
 * are made of the kind, the shape of the sheet and the column or vocabulary. Sheets of one shape are asked once.
 */
export function confirmationsOf(
  sheets: readonly { readonly sheet: SheetCells; readonly chosen: ChosenMapping; readonly mapping: Mapping }[],
  words: readonly ProposedWord[],
  setup: readonly SetupRow[],
  answers: Answers,
): readonly Confirmation[] {
  const confirmed = new Set(answers.confirm ?? []);
  const found = new Map<string, Confirmation>();
  const ask = (confirmation: Omit<Confirmation, "answered">, answered = false) => {
    const { id } = confirmation;
    if (!found.has(id)) found.set(id, { ...confirmation, answered: answered || confirmed.has(id) });
  };
  for (const { sheet, chosen, mapping } of sheets) {
    askColumns(sheet, chosen, ask);
    askFilledDown(sheet, chosen, ask);
    askUnits(sheet, chosen, ask);
    askDates(sheet, chosen, ask);
    if (chosen.proposal !== null || chosen.mapping.addRows.some((added) => !added.answered)) {
      askAddedRows(sheet, mapping, ask);
    }
  }
  askWords(words, answers, ask);
  for (const kind of ["tools", "items", "modes"] as const) askSetup(kind, setup, answers, ask);
  return [...found.values()];
}

type Ask = (confirmation: Omit<Confirmation, "answered">, answered?: boolean) => void;

export const addedRowsId = (mapping: Mapping): string => `added:${shapeId(mapping.fingerprint)}`;

function askColumns(sheet: SheetCells, { mappingIs, mapping }: ChosenMapping, ask: Ask): void {
  const id = `columns:${shapeId(mapping.fingerprint)}`;
  const about = { fingerprint: mapping.fingerprint, headers: sheet.headers };
  if (mappingIs === "not understood") {
    ask({
      id,
      kind: "columns",
      question: `No table could be proposed for ${nameOfSheet(sheet)}. Keep all its lines aside?`,
      why: "Its headers fit no kind of sheet known here.",
      proposed: `All ${sheet.rows.length} lines are set aside as written, until the sheet is mapped by hand.`,
      about,
    });
    return;
  }
  if (mappingIs !== "proposed") return;
  const tables = [...new Set(mapping.tables.map(({ table }) => tableDescriptors[table].title.toLowerCase()))];
  ask({
    id,
    kind: "columns",
    question: `Is ${nameOfSheet(sheet)} a sheet of ${mapping.name}, with its columns as shown?`,
    why: "From its headers, its cells and its file name; the reason stands beside each column.",
    proposed: `Each line becomes: ${tables.join(", ")}.`,
    about,
  });
}

/** Never silently: a cell that is read from the line above is a guess until somebody says so. */
function askFilledDown(sheet: SheetCells, { mapping, newlyFilled }: ChosenMapping, ask: Ask): void {
  if (newlyFilled.length === 0) return;
  const named = newlyFilled.map((header) => `"${header}"`).join(", ");
  const indexes = newlyFilled.map((header) => sheet.headers.indexOf(header));
  const blanks = sheet.rows.filter(({ cells }) => indexes.some((index) => (cells[index] ?? "").trim() === "")).length;
  ask({
    id: `filled:${shapeId(mapping.fingerprint)}:${newlyFilled.join("|")}`,
    kind: "columns",
    question: `In ${nameOfSheet(sheet)}, does a blank under ${named} mean "as above"?`,
    why: `${blanks} of ${sheet.rows.length} lines leave ${newlyFilled.length === 1 ? "it" : "them"} blank and go on further right, as in a sheet written in blocks.`,
    proposed: `Blanks under ${named} are filled with what stands above. If they are simply not known, say so.`,
    about: { fingerprint: mapping.fingerprint, headers: newlyFilled },
  });
}

function askUnits(sheet: SheetCells, { proposal, mapping }: ChosenMapping, ask: Ask): void {
  const guessed = proposal?.guessedUnits ?? [];
  if (guessed.length === 0) return;
  ask({
    id: `unit:${shapeId(mapping.fingerprint)}`,
    kind: "unit",
    question: `Are these the units in ${nameOfSheet(sheet)}?`,
    why: guessed[0]?.why ?? "",
    proposed: guessed.map(({ header, unit }) => `${header}: ${unit}`).join("; "),
    about: { fingerprint: mapping.fingerprint, headers: guessed.map(({ header }) => header) },
  });
}

const orderInWords: Readonly<Record<DateOrder, string>> = {
  dmy: "day, month, year",
  mdy: "month, day, year",
  ymd: "year, month, day",
};

function askDates(sheet: SheetCells, { assumedDates, mapping }: ChosenMapping, ask: Ask): void {
  for (const { header, order, example } of assumedDates) {
    ask({
      id: `dates:${shapeId(mapping.fingerprint)}:${header}`,
      kind: "date order",
      question: `Which order have the dates in "${header}" of ${nameOfSheet(sheet)}?`,
      why: `No date in it has a day above 12, so "${example}" can be read two ways, and no other column decides.`,
      proposed: orderInWords[order],
      about: { fingerprint: mapping.fingerprint, headers: [header] },
    });
  }
}

function askAddedRows(sheet: SheetCells, mapping: Mapping, ask: Ask): void {
  if (mapping.addRows.length === 0) return;
  const answered = mapping.addRows.every((added) => added.answered);
  ask(
    {
      id: addedRowsId(mapping),
      kind: "added rows",
      question: mapping.addRows.map((added) => added.question).join(" "),
      why: `${nameOfSheet(sheet)} does not say which items a build renewed, and ages cannot be counted without it.`,
      proposed: mapping.addRows.map((added) => added.statement).join(" "),
      about: { fingerprint: mapping.fingerprint, headers: [] },
    },
    answered,
  );
}

const vocabularyTitles: { readonly [V in VocabularyName]: string } = {
  conditions: "conditions",
  items: "items",
  "redress reasons": "reasons of a redress",
  "pulled because": "reasons a tool was pulled",
  "teardown why": "reasons of a teardown",
  "teardown kind": "kinds of teardown",
  "tool status": "tool status",
  "hours kind": "kinds of hours",
  "pressure test": "pressure test results",
  "yes or no": "yes or no",
  severity: "severity",
};
const phrasesShown = 15;

function askWords(words: readonly ProposedWord[], _answers: Answers, ask: Ask): void {
  for (const vocabulary of new Set(words.map((word) => word.vocabulary))) {
    const own = words.filter((word) => word.vocabulary === vocabulary);
    const shown = own
      .slice(0, phrasesShown)
      .map(({ phrase, means, times }) => `"${phrase}" (${times}) means ${meaning(means)}`);
    const more = own.length > phrasesShown ? [`and ${own.length - phrasesShown} more`] : [];
    const liked = own.filter((word) => word.like !== null).length;
    ask({
      id: `words:${vocabulary}`,
      kind: "words",
      question: `Do these words for ${vocabularyTitles[vocabulary]} mean what is proposed?`,
      why: `The word list does not know them. ${liked} of ${own.length} are near a phrase it knows.`,
      proposed: [...shown, ...more].join("; "),
      words: own,
    });
  }
}

const meaning = (means: ProposedWord["means"]): string =>
  means === null ? "nothing written down" : means === true ? "yes" : means === false ? "no" : String(means);

const setupTables: { readonly [K in "tools" | "items" | "modes"]: TableName } = {
  tools: "tools",
  items: "tool_items",
  modes: "modes",
};
const setupQuestions: { readonly [K in "tools" | "items" | "modes"]: string } = {
  tools: "Are the tool types and sizes of these serials right?",
  items: "Is this the item list?",
  modes: "Is this how these failure modes behave?",
};

function askSetup(kind: "tools" | "items" | "modes", setup: readonly SetupRow[], answers: Answers, ask: Ask): void {
  const rows = setup.filter((row) => row.table === setupTables[kind]);
  if (rows.length === 0) return;
  ask(
    { id: kind, kind, question: setupQuestions[kind], why: rows[0]?.why ?? "", proposed: setupInWords(kind, rows) },
    answers.setup !== undefined,
  );
}

function setupInWords(kind: "tools" | "items" | "modes", rows: readonly SetupRow[]): string {
  if (kind === "tools") {
    const groups = new Map<string, number>();
    for (const { values } of rows) {
      const size =
        values.size_in === null || values.size_in === undefined ? "size not known" : `${String(values.size_in)} in`;
      const name = `${String(values.tool_type)}, ${size}`;
      groups.set(name, (groups.get(name) ?? 0) + 1);
    }
    return [...groups].map(([name, count]) => `${count} ${count === 1 ? "serial" : "serials"}: ${name}`).join("; ");
  }
  if (kind === "items")
    return rows
      .map(({ values }) => `${String(values.tool_type)}: ${String(values.item)} (${String(values.kind)})`)
      .join("; ");
  return rows
    .map(({ values }) => {
      const leads = values.leads_to ? `, leads to ${String(values.leads_to)}` : "";
      return `${String(values.item)}: ${String(values.mode)} (${String(values.announces)}, from severity ${String(values.threshold)}, restored when ${String(values.restored_by)}${leads})`;
    })
    .join("; ");
}
