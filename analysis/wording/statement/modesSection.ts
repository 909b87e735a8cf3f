import type { StatementMode } from "../../statement/types.ts";
import { formatHours } from "../formatAge.ts";
import { formatConfidence } from "../formatEstimate.ts";
import { countOf, listOf, sentenceCase } from "../inWords.ts";
import { sayFleetFinding } from "../sayFinding.ts";
import { type StatementBlock, type StatementCell, type StatementSection, say } from "./document.ts";
import { boundTitles, countCell, estimateFigure, hoursCell, numberCell } from "./figures.ts";
import type { Sources } from "./sources.ts";

/** Failures by mode: how often each was found, with exact bounds. */
export function modesSection(sources: Sources): StatementSection {
  const { statement, rates, manyTypes: many } = sources;
  const { modes, definition, pictures } = statement;
  const [low, high] = boundTitles(definition.confidence);
  return {
    id: "modes",
    title: "What failed, and how often",
    blocks: [
      ...(modes.length === 0
        ? []
        : [
            {
              kind: "picture" as const,
              id: "rates",
              draws: "rates" as const,
              index: 0,
              finding: sayFleetFinding(pictures.whatFails, "rates", (mode) => modeName(mode, sources)),
              result: rates,
            },
          ]),
      {
        kind: "table",
        id: "modes",
        title: "Failures per 1,000 hours by mode, the highest rate first",
        columns: [
          ...(many ? [{ title: "Tool type", kind: "text" as const }] : []),
          { title: "Item", kind: "text" },
          { title: "Mode", kind: "text" },
          { title: "Failures", kind: "number" },
          { title: "Hours", kind: "number" },
          { title: "Of the hours", kind: "text" },
          { title: "Per 1,000 h", kind: "number" },
          { title: low, kind: "number" },
          { title: high, kind: "number" },
        ],
        rows: modes.map((mode): readonly StatementCell[] => [
          ...(many ? [mode.toolType] : []),
          mode.item,
          mode.mode,
          countCell(mode.failures),
          hoursCell(mode.hours),
          mode.announces === "hidden" ? "inspected" : "run",
          numberCell(mode.rate.value, "no hours"),
          numberCell(mode.rate.lower, "no hours"),
          numberCell(mode.rate.upper, "no hours"),
        ]),
        note: `Exact Poisson bounds, ${formatConfidence(definition.confidence)} two-sided. A mode that only an inspection shows is counted per hour inspected. Modes of one item can fail together, so rates of modes do not add up to a rate of the tool.`,
        result: rates,
      },
      ...meanTimes(sources),
    ],
  };
}

/** Mean times only where asked for, and only of modes that carry one. */
function meanTimes(sources: Sources): readonly StatementBlock[] {
  const { statement, rates } = sources;
  if (!statement.definition.asked.includes("mean time between failures")) return [];
  const failed = statement.modes.filter(({ failures }) => failures > 0);
  const said = failed.filter(({ meanTime }) => meanTime.mayBeSaid && meanTime.meanTime !== null);
  const items = said.flatMap(({ meanTime: { meanTime, survivalAtMeanTime }, ...mode }) =>
    meanTime === null
      ? []
      : [
          say`${modeName(mode, sources)}: mean time between failures ${estimateFigure(meanTime, rates)}. It is not a life that every item reaches: ${{ text: `${Math.round(100 * (survivalAtMeanTime ?? Math.exp(-1)))} %`, value: 100 * (survivalAtMeanTime ?? Math.exp(-1)), result: rates }} are still good at ${formatHours(meanTime.value)}${survivalAtMeanTime === null ? ", if the rate is constant" : ""}.`,
        ],
  );
  const unsaid = failed.filter(({ meanTime }) => !meanTime.mayBeSaid);
  return [
    ...(items.length === 0 ? [] : [{ kind: "list" as const, items }]),
    ...(unsaid.length === 0
      ? []
      : [
          {
            kind: "paragraph" as const,
            text: say`No mean time is given for ${countOf(unsaid.length, "mode")}: ${listOf(reasons(unsaid))}.`,
          },
        ]),
  ];
}

function reasons(modes: readonly StatementMode[]): readonly string[] {
  const count = (why: StatementMode["meanTime"]["why"][number]): number =>
    modes.filter(({ meanTime }) => meanTime.why.includes(why)).length;
  return (
    [
      ["fewer than 10 failures", "fewer than 10 failures"],
      [
        "shape not near 1",
        "a rate that cannot be shown near constant (90 % interval of the power-law shape not inside 0.6 to 1.6)",
      ],
      ["trend", "a trend"],
    ] as const
  ).flatMap(([why, words]) => (count(why) > 0 ? [`${count(why)} with ${words}`] : []));
}

/** A mode with its item, and its tool type where there is more than one. */
export function modeName(
  { toolType, item, mode }: Pick<StatementMode, "toolType" | "item" | "mode">,
  { manyTypes }: Pick<Sources, "manyTypes">,
): string {
  return sentenceCase(`${manyTypes ? `${toolType}, ` : ""}${item}, ${mode}`);
}
