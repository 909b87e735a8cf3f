import { listOf, sentenceCase } from "../inWords.ts";
import { saySeverity } from "../severityWords.ts";
import { type StatementBlock, type StatementSection, say } from "./document.ts";
import { countCell, estimateFigure, exactFigure, hoursFigure } from "./figures.ts";
import type { Sources } from "./sources.ts";

/** What counts as a failure, by the shop and, where it differs, by the customer. */
export function definitionSection(sources: Sources): StatementSection {
  const { statement, rates } = sources;
  const { failureDefinition } = statement;
  return {
    id: "definition",
    title: "What counts as a failure",
    blocks: [
      {
        kind: "paragraph",
        text: say`A run counts against the tool where it was pulled for a tool failure, or the tool was lost in the hole. An item counts as failed where a teardown, or the run record, finds it at or above the severity in the table, whatever the reason the tool came in for.`,
      },
      {
        kind: "table",
        id: "modes-defined",
        title: "Failure modes and their thresholds",
        columns: [
          { title: "Item", kind: "text" },
          { title: "Mode", kind: "text" },
          { title: "From severity", kind: "text" },
          { title: "Noticed", kind: "text" },
          { title: "Clock starts again when", kind: "text" },
        ],
        rows: failureDefinition.modes.map(({ item, mode, threshold, announces, restoredBy }) => [
          item,
          mode,
          saySeverity(threshold),
          announces === "hidden" ? "at inspection" : "while running",
          restoredBy,
        ]),
        note: null,
        result: rates,
      },
      ...(failureDefinition.statements.length === 0
        ? []
        : [
            {
              kind: "list" as const,
              items: failureDefinition.statements.map((statementText) => say`${statementText}`),
            },
          ]),
      ...customerBlocks(sources),
    ],
  };
}

function customerBlocks({ statement, rates }: Sources): readonly StatementBlock[] {
  const view = statement.customerView;
  if (view === null) return [];
  const limits = Object.entries(view.thresholds).map(([mode, threshold]) => `${mode} from severity ${threshold}`);
  const differs = [
    limits.length === 0 ? null : listOf(limits),
    view.hoursKind === null ? null : `${view.hoursKind} hours`,
  ].filter((one) => one !== null);
  const rows = view.modes.filter(({ shop, customer }) => shop > 0 || customer > 0);
  return [
    {
      kind: "paragraph",
      text: say`By the customer's definition (${differs.length === 0 ? "the same" : differs.join("; ")}): ${exactFigure(view.failures, view.result)} failures found in ${hoursFigure(view.hours, view.result)}, ${estimateFigure(view.rate, view.result)}. By the shop's, used in the rest of this statement: ${exactFigure(view.shopFailures, rates)}, ${estimateFigure(view.shopRate, rates)}.`,
    },
    {
      kind: "table",
      id: "definitions-compared",
      title: "Failures found by either definition",
      columns: [
        { title: "Tool type", kind: "text" },
        { title: "Item", kind: "text" },
        { title: "Mode", kind: "text" },
        { title: "By the shop's", kind: "number" },
        { title: "By the customer's", kind: "number" },
      ],
      rows: rows.map(({ toolType, item, mode, shop, customer }) => [
        sentenceCase(toolType),
        item,
        mode,
        countCell(shop),
        countCell(customer),
      ]),
      note: null,
      result: view.result,
    },
  ];
}
