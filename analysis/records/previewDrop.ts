import { type ChosenMapping, chooseMapping, numbered } from "./chooseMapping.ts";
import { compareSheet } from "./compareSheet.ts";
import { addedRowsId, confirmationsOf } from "./confirmations.ts";
import { defaultWords, withWords } from "./defaultWords.ts";
import type { DropInput, DropLineCounts, DropReading, SheetReading, StoredValues } from "./drop.ts";
import { missingRows } from "./goneRows.ts";
import { linkProblems } from "./linkProblems.ts";
import { mapDrop } from "./mapDrop.ts";
import type { MappedSheet, Mapping, Problem, ProposedWord, SheetCells, VocabularyName, WordList } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";
import { coveredName, proposeAddedRows } from "./proposeAddedRows.ts";
import { proposeSetup } from "./proposeSetup.ts";
import { proposeWords } from "./proposeWords.ts";
import { usesByHeader } from "./ruleUses.ts";
import { type SheetShape, sheetShapes } from "./sheetShapes.ts";

/**
 * Reads one drop, all its sheets together, without storing anything: mappings found or proposed, words and setup
 * proposed, rows mapped and compared with what is stored, links checked, and everything a person has to confirm.
 *
 * Ask again with the same sheets and more answers until `ready`. What is stored then is `mapped`, `words` and `setup`;
 * `mapDrop` gives the same `mapped` from the same bytes, mappings and words. Where `answers.mappings` holds a mapping
 * with another delimiter, encoding, comment sign or title lines, read the sheet again with its format first.
 *
 * Errors  "bad-mapping" where a mapping edited by hand cannot be applied.
 */
export function previewDrop(input: DropInput): DropReading {
  const stored = [...input.stored];
  const { onProgress = () => undefined } = input;
  const lines = input.sheets.reduce((sum, { sheet }) => sum + sheet.rows.length, 0);
  const known = withWords(defaultWords, input.words.vocabularies, input.words.version);
  const shapeOf = sheetShapes(
    input.sheets.map(({ sheet }) => sheet),
    known,
  );
  const sheets = input.sheets.map(({ sheet, bytes }) => {
    const shape = shapeOf(sheet);
    return { sheet, bytes, shape, chosen: chooseMapping(sheet, input, shape) };
  });
  const mapWith = (mappings: readonly Mapping[], words: WordList) =>
    mapDrop({
      sheets: sheets.map(({ sheet }, i) => ({ sheet, mapping: mappings[i] as Mapping })),
      words,
      onLines: (done) => onProgress("mapping", done, lines),
    });

  const first = sheets.map(({ chosen }) => chosen.mapping);
  const asKnown = mapWith(first, known);
  const toldWords = toldBySheets(asKnown);
  const told = toldWords === null ? known : withWords(known, toldWords);
  const asTold = toldWords === null ? asKnown : mapWith(first, told);
  const proposedWords = unanswered(proposeWords(asTold, told), input);
  const words = finalWords(input, told, proposedWords);

  const nothingNew = proposedWords.length === 0 && input.answers.words === undefined;
  const plain = nothingNew ? asTold : mapWith(first, words);
  const setup = input.answers.setup ?? proposeSetup(plain, stored);
  const mappings = numbered(withAddedRows(sheets, plain, setup, stored, words, input), input.remembered);
  const mapped = mappings.every((mapping, i) => sameRules(mapping, first[i])) ? plain : mapWith(mappings, words);

  const byPlace = new Map(stored.map((row) => [`${row.table} ${row.key}`, row.values]));
  const files = sheets.map(({ sheet, bytes, chosen }, i) => {
    const [reading, mapping] = [mapped[i] as MappedSheet, mappings[i] as Mapping];
    onProgress("comparing", i, sheets.length);
    return sheetReading(sheet, bytes, chosen, mapping, reading, (table, key) => byPlace.get(`${table} ${key}`));
  });
  const asked = sheets.map(({ sheet, chosen }, i) => ({ sheet, chosen, mapping: mappings[i] as Mapping }));
  const confirmations = confirmationsOf(
    asked,
    proposedWords,
    input.answers.setup === undefined ? setup : [],
    input.answers,
  );
  const rows = mapped.flatMap((sheet) => sheet.lines.flatMap((line) => line.rows));
  const mappedUnder = mapped.map((sheet, i) => ({ mapped: sheet, mapping: mappings[i] as Mapping }));
  return {
    files,
    words,
    confirmations,
    setup,
    linkProblems: linkProblems(rows, setup, stored),
    counts: sumOf(files.map((file) => file.counts)),
    ready: files.length > 0 && confirmations.every((confirmation) => confirmation.answered),
    missing: missingRows(
      mappedUnder,
      sheets.map(({ sheet }) => sheet.headers),
      stored,
    ),
    mapped: mappedUnder,
  };
}

/** Whether two mappings of a sheet, one made from the other, give the same rows. */
const sameRules = (mapping: Mapping, first: Mapping | undefined): boolean =>
  mapping.addRows.every((added, i) => added.answered === (first?.addRows[i]?.answered ?? false));

/** Words that the sheets themselves give: the phrases of a mode list, the aliases of an item list. null: none. */
function toldBySheets(mapped: readonly MappedSheet[]): WordList["vocabularies"] | null {
  const conditions: [string, string][] = [];
  const items: [string, string][] = [];
  for (const { table, values } of mapped.flatMap((sheet) => sheet.lines.flatMap((line) => line.rows))) {
    const [target, name, phrases] =
      table === "modes" ? [conditions, values.mode, values.words] : [items, values.item, values.aliases];
    if ((table !== "modes" && table !== "tool_items") || typeof name !== "string") continue;
    for (const phrase of [name, ...(Array.isArray(phrases) ? phrases : [])]) target.push([String(phrase), name]);
  }
  if (conditions.length + items.length === 0) return null;
  return { conditions: Object.fromEntries(conditions), items: Object.fromEntries(items) };
}

/** Phrases that the answers do not settle. */
function unanswered(words: readonly ProposedWord[], { answers }: DropInput): readonly ProposedWord[] {
  return words.filter(({ vocabulary, phrase }) => {
    const given = Object.keys(answers.words?.[vocabulary] ?? {}).map(normalisePhrase);
    return !given.includes(normalisePhrase(phrase));
  });
}

function finalWords(input: DropInput, told: WordList, proposed: readonly ProposedWord[]): WordList {
  const byVocabulary = new Map<VocabularyName, [string, ProposedWord["means"]][]>();
  for (const { vocabulary, phrase, means } of proposed) {
    byVocabulary.set(vocabulary, [...(byVocabulary.get(vocabulary) ?? []), [phrase, means]]);
  }
  const additions = Object.fromEntries([...byVocabulary].map(([name, entries]) => [name, Object.fromEntries(entries)]));
  const words = withWords(withWords(told, additions), input.answers.words ?? {});
  const same = input.words.version > 0 && contentOf(words) === contentOf(input.words);
  return same ? input.words : { ...words, version: input.words.version + 1 };
}

const contentOf = ({ vocabularies }: WordList): string =>
  JSON.stringify(
    Object.entries(vocabularies)
      .map(([name, phrases]) => [name, Object.entries(phrases).sort(([a], [b]) => (a < b ? -1 : 1))] as const)
      .filter(([, phrases]) => phrases.length > 0)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );

/** Adds the questions about renewal to proposed mappings, and marks the answered ones. */
function withAddedRows(
  sheets: readonly { readonly shape: SheetShape; readonly chosen: ChosenMapping }[],
  plain: readonly MappedSheet[],
  setup: DropReading["setup"],
  stored: readonly StoredValues[],
  words: WordList,
  { answers }: DropInput,
): readonly Mapping[] {
  const everyRow = [...plain.flatMap((sheet) => sheet.lines.flatMap((line) => line.rows)), ...setup, ...stored];
  const valuesOf = (table: StoredValues["table"]) =>
    everyRow.filter((row) => row.table === table).map((row) => row.values);
  const [items, tools] = [valuesOf("tool_items"), valuesOf("tools")];
  const typeOf = new Map(tools.map((tool) => [tool.serial, tool.tool_type]));
  const typeOfRedress = new Map(valuesOf("redresses").map((row) => [row.redress, typeOf.get(row.serial)]));
  const covered = new Set(valuesOf("fitted_items").map((row) => coveredName(typeOfRedress.get(row.redress), row.item)));
  const proposed = new Map<SheetShape, Mapping["addRows"]>();
  const addRowsOf = (shape: SheetShape, { mapping, proposal }: ChosenMapping): Mapping["addRows"] => {
    if (proposal === null) return mapping.addRows;
    const { openFitted } = proposal;
    const found =
      proposed.get(shape) ?? proposeAddedRows({ sheet: shape.pool, mapping, words, openFitted, items, tools, covered });
    proposed.set(shape, found);
    return found;
  };
  return sheets.map(({ shape, chosen }) => {
    const { mapping } = chosen;
    const addRows = addRowsOf(shape, chosen);
    const answered = answers.confirm?.includes(addedRowsId(mapping)) ?? false;
    return { ...mapping, addRows: addRows.map((added) => (answered ? { ...added, answered } : added)) };
  });
}

const samplesShown = 4;

function sheetReading(
  sheet: SheetCells,
  bytes: number,
  chosen: ChosenMapping,
  mapping: Mapping,
  mapped: MappedSheet,
  storedValues: Parameters<typeof compareSheet>[2],
): SheetReading {
  const uses = usesByHeader(mapping);
  const reasons = new Map(chosen.proposal?.columns.map(({ header, why }) => [header, why]));
  const otherwise =
    chosen.mappingIs === "edited" ? "Edited by hand." : "As confirmed before for sheets with these headers.";
  return {
    file: sheet.file,
    sheet: sheet.sheet,
    bytes,
    mapping,
    mappingIs: chosen.mappingIs,
    columns: sheet.headers.map((header, index) => ({
      header,
      samples: samplesOf(sheet, index),
      becomes: uses.get(header) ?? [],
      why: reasons.get(header) ?? (uses.has(header) ? otherwise : "Not used; the cells stay with the row as written."),
    })),
    ...compareSheet(mapped, mapping, storedValues),
    problems: [...assumedDateProblems(sheet, chosen), ...mapped.problems],
    gone: [],
  };
}

function samplesOf(sheet: SheetCells, index: number): readonly string[] {
  const samples = new Set<string>();
  for (const { cells } of sheet.rows) {
    const cell = (cells[index] ?? "").trim();
    if (cell !== "") samples.add(cell);
    if (samples.size === samplesShown) break;
  }
  return [...samples];
}

const assumedDateProblems = (sheet: SheetCells, { assumedDates }: ChosenMapping): readonly Problem[] =>
  assumedDates.map(({ header, order, example }) => ({
    code: "date-order-assumed",
    severity: "notice",
    origin: { file: sheet.file, sheet: sheet.sheet, line: sheet.headerLine },
    column: header,
    value: example,
    facts: { order },
  }));

const sumOf = (counts: readonly DropLineCounts[]): DropLineCounts =>
  counts.reduce(
    (sum, each) => ({
      lines: sum.lines + each.lines,
      new: sum.new + each.new,
      unchanged: sum.unchanged + each.unchanged,
      changed: sum.changed + each.changed,
      setAside: sum.setAside + each.setAside,
    }),
    { lines: 0, new: 0, unchanged: 0, changed: 0, setAside: 0 },
  );
