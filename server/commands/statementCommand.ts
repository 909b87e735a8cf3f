import { mkdir, readFile, writeFile as write } from "node:fs/promises";
import { join } from "node:path";
import {
  AnalysisError,
  defaultStatement,
  plainText,
  runStatement,
  type StatementDefinition,
  statementDocument,
} from "../../analysis/index.ts";
import { itemLifeQuery } from "../contracts/questions.ts";
import { statementDefinition } from "../contracts/statements.ts";
import { scopeOf } from "../routes/definitionOf.ts";
import { parseBody, parseQuery } from "../routes/parse.ts";
import { sampleName } from "../sample.ts";
import { previewIssue } from "../statement/issue.ts";
import { changesSince, issueOf, previousOf, statementBook } from "../statement/statementBook.ts";
import { shopData } from "../work/shopData.ts";
import { type Command, readOptions, UsageError } from "./command.ts";
import { withStore } from "./withStore.ts";

const scopeNames = ["type", "size", "item", "mode", "serial", "customer", "from", "to", "confidence"] as const;
const otherNames = [
  "serials",
  "wells",
  "run-hours",
  "change",
  "changed-on",
  "counted-from",
  "applies-to",
  "incident",
  "audience",
  "units",
  "decimal",
  "ask",
] as const;
const formats = ["html", "pdf", "xlsx", "pptx", "zip", "json"] as const;

/** `statement`: what may be claimed to a customer, as files; with --draft stored as a version in the journal. */
export const statementCommand: Command = {
  name: "statement",
  usage: `statement [${[...scopeNames, ...otherNames].map((name) => `--${name} ...`).join("] [")}] [--definition FILE] [--unmasked] [--draft INITIALS] [--out FOLDER] [--data FOLDER]`,
  about: `Makes a customer statement. With --out it is written as ${formats.join(", ")}; lists take commas.`,
  async run(words, terminal) {
    const text = { type: "string" } as const;
    const { values, positionals } = readOptions(words, {
      ...(Object.fromEntries([...scopeNames, ...otherNames].map((name) => [name, text])) as {
        readonly [N in (typeof scopeNames)[number] | (typeof otherNames)[number]]: typeof text;
      }),
      definition: text,
      draft: text,
      out: text,
      data: text,
      unmasked: { type: "boolean" },
    });
    if (positionals.length > 0) throw new UsageError(`"${positionals.join(" ")}" is not understood.`);
    const definition =
      values.definition === undefined ? definitionFor(values) : await definitionFrom(values.definition);

    return withStore<0 | 1>(values.data, terminal, async (store) => {
      const data = shopData(store, sampleName);
      const [open] = await data.openQuestions();
      if (open !== undefined) throw new AnalysisError("restoration-unanswered", { question: open });
      const { records, answers, dataHash, statements, sample } = await data.current();
      const book = statementBook(store);
      const [aliases, last] = await Promise.all([book.aliases(), book.last(definition)]);
      const context = { dataHash, answers, statements, sample };
      const result = runStatement(definition, records, context, { aliases, previous: previousOf(last) });
      for (const sentence of statementDocument(result).summary) terminal.out(plainText(sentence));
      terminal.out(`Content ${result.contentHash}`);

      let issue = { ...previewIssue, changes: last === null ? [] : changesSince(last, result) };
      if (values.draft !== undefined) {
        const version = await store.draftStatement(
          { statement: null, definition, result },
          values.draft,
          terminal.clock().toISOString(),
        );
        issue = { ...issueOf(version, last) };
        terminal.out(`Stored as statement ${version.statement}, version ${version.of}: a draft.`);
      }
      if (values.out !== undefined) {
        // Loaded when asked for: no other command draws or writes paper.
        const { writeFile } = await import("../statement/writeFile.ts");
        await mkdir(values.out, { recursive: true });
        for (const format of formats) {
          const file = await writeFile(result, issue, `statement.${format}`);
          if (file === null) continue;
          const path = join(values.out, `statement.${format}`);
          await write(path, file.bytes);
          terminal.out(`Wrote ${path}`);
        }
      }
      return 0;
    });
  },
};

type Written = { readonly [N in (typeof scopeNames)[number] | (typeof otherNames)[number]]?: string | undefined } & {
  readonly unmasked?: boolean | undefined;
};

function definitionFor(values: Written): StatementDefinition {
  const written = Object.fromEntries(
    scopeNames.flatMap((name) => (values[name] === undefined ? [] : [[name, values[name]]])),
  );
  const query = parseQuery(itemLifeQuery, written);
  const usual = defaultStatement(scopeOf(query));
  const { serials, wells, change, incident, ask, audience, units, decimal } = values;
  const [changedOn, countedFrom, appliesTo, runHours] = (
    ["changed-on", "counted-from", "applies-to", "run-hours"] as const
  ).map((name) => values[name]);
  if ((change === undefined) !== (changedOn === undefined))
    throw new UsageError("--change and --changed-on go together.");
  return checked({
    ...usual,
    kind: change !== undefined ? "before and after" : incident !== undefined ? "incident" : "periodic",
    scope: {
      ...usual.scope,
      ...(serials === undefined ? {} : { serials: listOf(serials) }),
      ...(wells === undefined ? {} : { wells: listOf(wells) }),
    },
    confidence: query.confidence ?? usual.confidence,
    runHours: runHours === undefined ? null : Number(runHours),
    incidentRun: incident ?? null,
    change:
      change === undefined
        ? null
        : { what: change, on: changedOn, countedFrom: countedFrom ?? null, appliesTo: appliesTo ?? "builds" },
    audience: audience ?? usual.audience,
    units: units ?? usual.units,
    ...(decimal === undefined ? {} : { decimalMark: decimal }),
    asked: ask === undefined ? [] : listOf(ask),
    masked: values.unmasked !== true,
  });
}

async function definitionFrom(path: string): Promise<StatementDefinition> {
  let content: unknown;
  try {
    content = JSON.parse(await readFile(path, "utf8"));
  } catch (error) {
    throw new UsageError(`${path} cannot be read as JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
  return checked(content);
}

const checked = (content: unknown): StatementDefinition => parseBody(statementDefinition, content);

const listOf = (text: string): string[] =>
  text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");
