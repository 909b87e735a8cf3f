import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import {
  AnalysisError,
  runStudy,
  type StudyDefinition,
  type StudyResult,
  sayAnswer,
  sayNotice,
} from "../../analysis/index.ts";
import {
  buildPracticeQuery,
  fleetQuery,
  itemLifeQuery,
  redressIntervalQuery,
  toolHistoryQuery,
  whatFailsQuery,
} from "../contracts/questions.ts";
import { toCsv } from "../routes/csv.ts";
import { fleetTable, redressIntervalTable } from "../routes/decisionTables.ts";
import { buildPracticeDefinition, decisionOf, definitionOf, scopeOf } from "../routes/definitionOf.ts";
import { parseQuery } from "../routes/parse.ts";
import type { CsvTable } from "../routes/sendCsv.ts";
import { itemLifeTable, livesTable, practiceTable, toolHistoryTable, whatFailsTable } from "../routes/tables.ts";
import { sampleName } from "../sample.ts";
import { livesPage } from "../work/livesPage.ts";
import { shopData } from "../work/shopData.ts";
import { type Command, readOptions, UsageError } from "./command.ts";
import { withStore } from "./withStore.ts";

const scopeNames = [
  "type",
  "size",
  "item",
  "mode",
  "serial",
  "customer",
  "from",
  "to",
  "confidence",
  "age",
  "missing",
  "audit",
  "planned",
  "failure",
  "found",
  "risk",
  "run",
  "well",
  "asof",
  "law",
  "bounds",
  "sides",
  "shape",
] as const;

/** `study QUESTION`: an answer in words, and its numbers as JSON and CSV. */
export const studyCommand: Command = {
  name: "study",
  usage: `study item-life|what-fails|build-practice|redress-interval|fleet|tool [${scopeNames.map((name) => `--${name} ...`).join("] [")}] [--out FOLDER] [--data FOLDER]`,
  about: "Answers a question from the stored records. With --out the result is written as JSON and its tables as CSV.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, {
      ...textOptions(),
      out: { type: "string" },
      data: { type: "string" },
    });
    const [question, ...more] = positionals;
    if (more.length > 0) throw new UsageError(`"${more.join(" ")}" is not understood.`);
    const definition = definitionFor(question, values);

    return withStore<0 | 1>(values.data, terminal, async (store) => {
      const data = shopData(store, sampleName);
      const [open] = await data.openQuestions();
      if (open !== undefined) throw new AnalysisError("restoration-unanswered", { question: open });
      const { records, answers, dataHash, statements, sample, cellTexts } = await data.current();
      const result = runStudy(definition, records, { dataHash, answers, statements, sample, cellTexts });
      terminal.out(sayAnswer(result));
      for (const notice of result.notices) terminal.out(`  ${sayNotice(notice)}`);
      if (values.out !== undefined) {
        const page = { ids: null, kind: null, offset: 0, limit: Number.POSITIVE_INFINITY };
        const lives = result.kind === "item life" ? livesPage(records, answers, definition, page).lives : [];
        const tables = { ...tablesOf(result), ...(lives.length > 0 ? { lives: livesTable(lives) } : {}) };
        for (const path of await writeAll(values.out, result, tables)) terminal.out(`Wrote ${path}`);
      }
      return 0;
    });
  },
};

const textOptions = () => {
  const text = { type: "string" } as const;
  return {
    type: text,
    size: text,
    item: text,
    mode: text,
    serial: text,
    customer: text,
    from: text,
    to: text,
    confidence: text,
    age: text,
    missing: text,
    audit: text,
    planned: text,
    failure: text,
    found: text,
    risk: text,
    run: text,
    well: text,
    asof: text,
    law: text,
    bounds: text,
    sides: text,
    shape: text,
  };
};

type Written = { readonly [N in (typeof scopeNames)[number]]?: string | undefined };

function definitionFor(question: string | undefined, values: Written): StudyDefinition {
  const written = Object.fromEntries(
    scopeNames.flatMap((name) => (values[name] === undefined ? [] : [[name, values[name]]])),
  );
  if (question === "item-life") {
    const query = parseQuery(itemLifeQuery, written);
    return definitionOf("item life", scopeOf(query), query);
  }
  if (question === "what-fails") {
    const query = parseQuery(whatFailsQuery, written);
    return definitionOf("what fails", scopeOf(query), query);
  }
  if (question === "fleet") {
    const query = parseQuery(fleetQuery, written);
    const cutoff = query.asof ?? null;
    return { ...definitionOf("fleet", scopeOf(query), query), decision: decisionOf(query), cutoff };
  }
  if (question === "redress-interval") {
    const query = parseQuery(redressIntervalQuery, written);
    return { ...definitionOf("redress interval", scopeOf(query), query), decision: decisionOf(query) };
  }
  if (question === "build-practice") {
    const query = parseQuery(buildPracticeQuery, written);
    return buildPracticeDefinition(scopeOf(query), query);
  }
  if (question === "tool") {
    const { serial, ...settings } = written;
    if (serial === undefined) throw new UsageError("study tool takes --serial.");
    return definitionOf("tool history", { ...scopeOf({}), serial }, parseQuery(toolHistoryQuery, settings));
  }
  throw new UsageError("study takes item-life, what-fails, build-practice, redress-interval, fleet or tool.");
}

function tablesOf(result: StudyResult): Readonly<Record<string, CsvTable>> {
  switch (result.kind) {
    case "item life":
      return {
        numbers: itemLifeTable(result, "numbers"),
        curve: itemLifeTable(result, "curve"),
        steps: itemLifeTable(result, "steps"),
      };
    case "what fails":
      return { modes: whatFailsTable(result) };
    case "fleet":
      return { board: fleetTable(result) };
    case "redress interval":
      return {
        curve: redressIntervalTable(result, "curve"),
        modes: redressIntervalTable(result, "modes"),
        ...(result.heat === null ? {} : { heat: redressIntervalTable(result, "heat") }),
      };
    case "build practice":
      return { comparisons: practiceTable(result) };
    case "tool history":
      return { events: toolHistoryTable(result), lives: livesTable(result.lives) };
  }
}

async function writeAll(
  folder: string,
  result: StudyResult,
  tables: Readonly<Record<string, CsvTable>>,
): Promise<string[]> {
  await mkdir(folder, { recursive: true });
  const name = result.kind.replaceAll(" ", "-");
  const texts = [
    [`${name}.json`, `${JSON.stringify(result, null, 2)}\n`] as const,
    ...Object.entries(tables).map(
      ([table, { headers, rows }]) => [`${name}-${table}.csv`, toCsv(headers, rows)] as const,
    ),
  ];
  return Promise.all(
    texts.map(async ([file, text]) => {
      await writeFile(join(folder, file), text);
      return join(folder, file);
    }),
  );
}
