import { resultHash } from "../../statement/statementLife.ts";
import type { ItemLifeResult } from "../../study/types.ts";
import { formatHours } from "../formatAge.ts";
import { sayLifeFinding } from "../sayFinding.ts";
import { type StatementCell, type StatementSection, say } from "./document.ts";
import { boundTitles, countCell, numberCell, percentCell } from "./figures.ts";
import { modeName } from "./modesSection.ts";
import { sayLivesLeftOut, saySurvival } from "./saySurvival.ts";
import type { Sources } from "./sources.ts";

/** How many of each item are still good at the customer's run length. */
export function survivalSection(sources: Sources): StatementSection {
  const { statement, own } = sources;
  const { modes, runHours, definition, pictures } = statement;
  const lived = modes.flatMap((mode) => (mode.life === null ? [] : [{ ...mode, life: mode.life }]));
  const [low, high] = boundTitles(definition.confidence);
  const asked = definition.runHours === null ? "the median run of this scope" : "the run length asked about";
  if (lived.length === 0)
    return {
      id: "survival",
      title: `Still good at ${formatHours(runHours)}`,
      blocks: [
        {
          kind: "paragraph",
          text: say`No failure was found in this scope, so no life is fitted; what the failure-free hours show stands in the rates above.`,
        },
      ],
    };
  // What a table of numbers would not say: beyond experience, nobody followed, a single failure.
  const worthSaying = lived.filter(({ life }) => life.survival === null || life.counts.failures < 2);
  return {
    id: "survival",
    title: `Still good at ${formatHours(runHours)}`,
    blocks: [
      {
        kind: "paragraph",
        text: say`Of each item new, or just made up, the share that is still good after ${formatHours(runHours)}, ${asked}. Every life counts, those that ended sound as well as those that failed; a life counts to the customer of its first run, so its failures can differ from those in the table of rates. Nothing is claimed beyond the longest life followed.`,
      },
      {
        kind: "table",
        id: "survival",
        title: `Per cent still good at ${formatHours(runHours)}`,
        columns: [
          { title: "Item and mode", kind: "text" },
          { title: "Lives", kind: "number" },
          { title: "Failed", kind: "number" },
          { title: "Longest, h", kind: "number" },
          { title: "Still good, %", kind: "number" },
          { title: low, kind: "number" },
          { title: high, kind: "number" },
          { title: "Left out", kind: "text" },
        ],
        rows: lived.map(({ life, ...mode }): readonly StatementCell[] => {
          const { counts, survival, longestAge } = life;
          const why =
            survival === null ? "beyond experience" : counts.failures === 0 ? "none has failed" : "not known yet";
          return [
            modeName(mode, sources),
            countCell(counts.lives),
            countCell(counts.failures),
            numberCell(longestAge),
            percentCell(survival?.value ?? null, why),
            percentCell(survival?.lower ?? null, why),
            percentCell(survival?.upper ?? null, survival === null ? why : "not known"),
            sayLivesLeftOut(life) ?? "none",
          ];
        }),
        note: "Weibull by maximum likelihood with likelihood-ratio bounds; a mode that leads to another is fitted jointly with it. Modes of one tool are not multiplied: they are not independent.",
        result: own,
      },
      ...(worthSaying.length === 0
        ? []
        : [
            {
              kind: "list" as const,
              items: worthSaying.map(({ life, ...mode }) => saySurvival(modeName(mode, sources), life)),
            },
          ]),
      ...pictures.lives.map((life, index) => ({
        kind: "picture" as const,
        id: `survival-${index + 1}`,
        draws: "survival" as const,
        index,
        finding: sayLifeFinding(life, "survival", lifeName(life, sources)),
        result: resultHash(life),
      })),
    ],
  };
}

/** As the other modes of the statement are named. */
const lifeName = ({ scope, item, mode }: ItemLifeResult, sources: Sources): string =>
  modeName({ toolType: scope.toolType ?? "any tool", item, mode }, sources);
