import type { StatementResult } from "../../statement/types.ts";
import { formatHours } from "../formatAge.ts";
import { formatDate } from "../formatDate.ts";
import { formatNumber } from "../formatNumber.ts";
import { formatSize } from "../formatSize.ts";
import { sentenceCase } from "../inWords.ts";
import { saySeverity } from "../severityWords.ts";
import { type Inline, type StatementSection, say } from "./document.ts";
import { estimateFigure, exactFigure, hoursFigure } from "./figures.ts";
import { sayToolFailures } from "./sayRates.ts";
import type { Sources } from "./sources.ts";

const pulled = {
  planned: "as planned",
  "tool failure": "for a tool failure",
  "other tool": "for another tool",
  "hole problem": "for a problem of the hole",
  "lost in hole": "because the tool was lost in the hole",
  other: "for another reason",
  "not known": "for a reason that nobody wrote down",
} as const;

/** One run that went wrong: what was found, what is known of why, how rare it is. */
export function incidentSection(sources: Sources): StatementSection | null {
  const sentences = incidentSentences(sources);
  if (sentences === null) return null;
  const { first, items } = sentences;
  const { incident, population, toolFailures, toolFailureRate } = sources.statement;
  const ended = incident?.pulledBecause === "tool failure" || incident?.pulledBecause === "lost in hole";
  return {
    id: "incident",
    title: "The incident",
    blocks: [
      { kind: "paragraph", text: first },
      { kind: "list", items },
      ...(ended
        ? [
            {
              kind: "paragraph" as const,
              text: say`This run is one of all those of the scope. ${sayToolFailures({ runs: population.runs, hours: population.hours, failures: toolFailures, rate: toolFailureRate }, sources.rates)}`,
            },
          ]
        : []),
    ],
  };
}

interface IncidentSentences {
  readonly first: Inline;
  /** One a finding, then what was done about them. */
  readonly items: readonly Inline[];
}

/** What happened, and each finding; null where the statement is about no incident. */
export function incidentSentences({ statement, own, rates }: Sources): IncidentSentences | null {
  const { incident, definition } = statement;
  if (incident === null) return null;
  const { serial, run, on, hours, well, pulledBecause, findings, tornDownOn, toolType, sizeIn } = incident;
  const oilfield = definition.units === "oilfield";
  const hidden = ({ item, condition }: { readonly item: string; readonly condition: string }): boolean =>
    statement.modes.some(
      (mode) =>
        mode.item === item &&
        mode.mode === condition &&
        (toolType == null || mode.toolType === toolType) &&
        mode.announces === "hidden",
    );
  const items = findings.flatMap((one): readonly Inline[] => {
    const torque =
      one.breakoutTorque_Nm === null
        ? ""
        : `, breakout torque ${oilfield ? `${formatNumber(one.breakoutTorque_Nm / 1.355818)} ft-lbf` : `${formatNumber(one.breakoutTorque_Nm)} N·m`}`;
    const severity =
      one.severity === null ? "severity not written down" : `severity ${inBrackets(saySeverity(one.severity))}`;
    const result = one.result ?? own;
    const age = one.age === null ? "" : `, about ${formatHours(one.age)} after it was restored`;
    const rare =
      one.rate === null
        ? say` How rare this is cannot be said: the mode is not counted as failed here.`
        : say` How rare: ${exactFigure(one.failures, rates)} found in ${hoursFigure(one.hours, rates)}${hidden(one) ? " inspected" : ""} in this scope, this one included, ${estimateFigure(one.rate, rates)}.`;
    const aged =
      one.survival === null
        ? one.age !== null && one.longestAge !== null && one.age > one.longestAge
          ? say` None was followed as long before.`
          : say``
        : say` At that age ${estimateFigure(one.survival, result)} are still good.`;
    return [
      say`${sentenceCase(one.item)}: ${one.condition}, ${severity}${torque}${age}. ${causeOf(one.cause)}${rare}${aged}`,
    ];
  });
  const kind = [toolType, sizeIn == null ? null : formatSize(sizeIn)].filter((part) => part != null);
  const first = say`${serial}${kind.length === 0 ? "" : ` (${kind.join(", ")})`}, run ${run}${well === null ? "" : `, ${well}`}: came in on ${formatDate(on)} ${pulled[pulledBecause]}, ${hours === null ? "hours not written down" : `after ${formatHours(hours)}`}. ${tornDownOn === null ? "It has not been torn down, so what failed is not known." : `Torn down on ${formatDate(tornDownOn)}${findings.length === 0 ? "; nothing was found failed." : "."}`}`;
  return { first, items: [...items, sayActions(statement)] };
}

/** What was done, or is to be done, about the items found and about the tool as a whole. */
function sayActions({ actions, incident }: StatementResult): Inline {
  const about = actions.filter(
    ({ item, mode }) =>
      item === null || incident?.findings.some((one) => one.item === item && (mode === null || mode === one.condition)),
  );
  if (about.length === 0) return say`Corrective action: none written down.`;
  const said = about.map(({ what, state, on }) => {
    if (state === "done") return `${what} (done${on === null ? "" : ` ${formatDate(on)}`})`;
    return `${what} (open, ${on === null ? "no date" : `due ${formatDate(on)}`})`;
  });
  return say`Corrective action: ${said.join("; ")}.`;
}

/** "4 failed" as "4 (failed)". */
const inBrackets = (severity: string): string => severity.replace(/^(\S+) (.+)$/, "$1 ($2)");

const causeOf = (cause: string | null): string =>
  cause === null || cause === "not yet determined" ? "Cause: not yet determined." : `Cause: ${cause}.`;
