import { formatConfidence } from "../formatEstimate.ts";
import { formatNumber } from "../formatNumber.ts";
import { type StatementBlock, type StatementCell, type StatementSection, say } from "./document.ts";
import { boundTitles, countCell, hoursCell, numberCell } from "./figures.ts";
import { sayGroup } from "./sayGroup.ts";
import { sayHalfYears } from "./sayHalfYears.ts";
import { sayTrend } from "./sayTrend.ts";
import type { Sources } from "./sources.ts";

/** Whether the rate changes with the tools' hours, over the calendar, or between groups. */
export function trendSection({ statement, own, rates }: Sources): StatementSection {
  const { trend, periods, definition } = statement;
  const [low, high] = boundTitles(definition.confidence);
  const shape =
    trend.shape === null
      ? []
      : [
          {
            kind: "paragraph" as const,
            text: say`Power-law shape ${{ text: `${formatNumber(trend.shape.value)} (${formatNumber(trend.shape.lower)}–${formatNumber(trend.shape.upper)}, 90 %)`, value: trend.shape.value, result: own }}; 1 is a constant rate, below 1 improving, above 1 worsening.`,
          },
        ];
  const table: StatementBlock = {
    kind: "table",
    id: "half-years",
    title: "Items found failed per 1,000 hours, by half-year",
    columns: [
      { title: "Half-year", kind: "text" },
      { title: "Failed items", kind: "number" },
      { title: "Hours", kind: "number" },
      { title: "Per 1,000 h", kind: "number" },
      { title: low, kind: "number" },
      { title: high, kind: "number" },
    ],
    rows: periods.map(({ label, failures, hours, rate }): readonly StatementCell[] => [
      label,
      countCell(failures),
      hoursCell(hours),
      numberCell(rate.value, "no hours"),
      numberCell(rate.lower, "no hours"),
      numberCell(rate.upper, "no hours"),
    ]),
    note: `Exact Poisson bounds, ${formatConfidence(definition.confidence)} two-sided. An item counts once where several of its modes failed together.`,
    result: rates,
  };
  return {
    id: "trend",
    title: "Is it getting better or worse?",
    blocks: [
      { kind: "paragraph", text: sayTrend(trend, own) },
      ...(definition.audience === "engineer" ? shape : []),
      ...(periods.length < 2
        ? []
        : [
            {
              kind: "paragraph" as const,
              text: say`The half-years count items found failed, by the calendar; the tests above count runs that the tool ended, by the hours of each tool. An item found failed at an inspection need not have ended a run, so the two can point different ways.`,
            },
            {
              kind: "picture" as const,
              id: "over-time",
              draws: "over time" as const,
              index: 0,
              finding: sayHalfYears(statement).finding,
              result: rates,
            },
            table,
          ]),
    ],
  };
}

/** Groups that may be unlike. */
export function groupsSection({ statement, own }: Sources): StatementSection | null {
  const { strata } = statement.evidence;
  const [low, high] = boundTitles(statement.definition.confidence);
  if (strata.length === 0) return null;
  return {
    id: "groups",
    title: "Is it one population?",
    blocks: [
      {
        kind: "table",
        id: "groups",
        title: "Runs that the tool ended, per 1,000 hours, by group",
        columns: [
          { title: "By", kind: "text" },
          { title: "Group", kind: "text" },
          { title: "Ended by the tool", kind: "number" },
          { title: "Hours", kind: "number" },
          { title: "Per 1,000 h", kind: "number" },
          { title: low, kind: "number" },
          { title: high, kind: "number" },
          { title: "All alike, p", kind: "number" },
        ],
        rows: strata.flatMap(({ by, pValue, groups }) =>
          groups.map((group, index): readonly StatementCell[] => [
            by,
            sayGroup(by, group.name),
            countCell(group.failures),
            hoursCell(group.hours),
            numberCell(group.rate.value),
            numberCell(group.rate.lower),
            numberCell(group.rate.upper),
            index === 0 ? numberCell(pValue) : { value: null, text: "" },
          ]),
        ),
        note: "p: how often chance alone would make groups of one common rate differ this much (likelihood ratio). These groups go together in places; a difference here is no cause.",
        result: own,
      },
    ],
  };
}
