import { tellingComparisons } from "../../statement/tellingComparisons.ts";
import type { Comparison } from "../../statement/types.ts";
import { formatDate } from "../formatDate.ts";
import { formatConfidence } from "../formatEstimate.ts";
import { formatNumber } from "../formatNumber.ts";
import { countOf, listOf } from "../inWords.ts";
import { type StatementCell, type StatementSection, say } from "./document.ts";
import { boundTitles, countCell, hoursCell, numberCell } from "./figures.ts";
import { nameOf, sayRateComparison } from "./sayRateComparison.ts";
import type { Sources } from "./sources.ts";

const verdicts = {
  fewer: "fewer",
  more: "more",
  "no difference shown": "no difference shown yet",
  "too little to tell": "too few failures to tell",
} as const;

/** Before and after a change, at the same ages. */
export function changeSection({ statement, own }: Sources): StatementSection | null {
  const { beforeAfter, definition } = statement;
  if (beforeAfter === null) return null;
  const { change, comparisons, bands } = beforeAfter;
  const [low, high] = boundTitles(definition.confidence);
  const untold = comparisons.length - tellingComparisons(beforeAfter).length;
  // The first, and every difference that is shown; the others stand in picture and table.
  const said = comparisons.filter(({ verdict }, index) => index === 0 || verdict === "fewer" || verdict === "more");
  const counted =
    change.countedFrom === null
      ? ""
      : ` "After" is counted from ${formatDate(change.countedFrom)}; what fell between the two days counts on neither side.`;
  return {
    id: "change",
    title: "Before and after the change",
    blocks: [
      {
        kind: "paragraph",
        text: say`The change: ${change.what}, on ${formatDate(change.on)}; it applies to ${change.appliesTo === "builds" ? "items restored" : "runs that came in"} from that day on.${counted}`,
      },
      { kind: "list", items: said.map((one) => sayRateComparison(one, own)) },
      ...(comparisons.length === 0
        ? []
        : [
            {
              kind: "picture" as const,
              id: "comparisons",
              draws: "comparisons" as const,
              index: 0,
              finding: changeFinding(statement),
              result: own,
            },
            ...(untold === 0
              ? []
              : [
                  {
                    kind: "paragraph" as const,
                    text: say`The picture shows what has failures enough to tell; ${countOf(untold, "comparison")} with too few ${untold === 1 ? "stands" : "stand"} in the table alone.`,
                  },
                ]),
          ]),
      {
        kind: "table",
        id: "comparisons",
        title: "Failures before and after, and the ratio of the rates",
        columns: [
          { title: "What", kind: "text" },
          { title: "Failures before", kind: "number" },
          { title: "Hours before", kind: "number" },
          { title: "Failures after", kind: "number" },
          { title: "Hours after", kind: "number" },
          { title: "Ratio", kind: "number" },
          { title: low, kind: "number" },
          { title: high, kind: "number" },
          { title: "p, allowing for all", kind: "number" },
          { title: "Shown", kind: "text" },
        ],
        rows: comparisons.map((one): readonly StatementCell[] => [
          nameOf(one),
          countCell(one.before.failures),
          hoursCell(one.before.hours),
          countCell(one.after.failures),
          hoursCell(one.after.hours),
          numberCell(one.ratio.value, "not known"),
          numberCell(one.ratio.lower, "not known"),
          numberCell(one.ratio.upper, "unbounded"),
          numberCell(one.adjustedPValue),
          verdicts[one.verdict],
        ]),
        note: `Exact conditional bounds of the ratio, ${formatConfidence(definition.confidence)} two-sided, within bands of age ending at ${listOf(bands.map((edge) => formatNumber(edge)))} h, so that younger items after the change do not count as an effect of it. p allows for the number of comparisons (Holm).${widened(comparisons)} Other things changed in the same time; this shows a difference, not its cause.`,
        result: own,
      },
    ],
  };
}

/** Which bounds are no longer the exact ones. */
function widened(comparisons: readonly Comparison[]): string {
  const wider = comparisons.filter(({ ratio }) => ratio.method === "exact conditional, widened by tool");
  if (wider.length === 0) return "";
  return ` Tools differ by more than chance in: ${wider.map(nameOf).join("; ")}. There exact bounds would be too narrow, and bounds and p are widened by tool.`;
}

function changeFinding({ beforeAfter }: Sources["statement"]): string {
  const shown = (beforeAfter?.comparisons ?? []).filter(({ verdict }) => verdict === "fewer" || verdict === "more");
  return shown.length === 0
    ? "Rate after over rate before: no difference shown yet"
    : `Rate after over rate before: ${listOf(shown.map((one) => `${verdicts[one.verdict]} for ${nameOf(one)}`))}`;
}
