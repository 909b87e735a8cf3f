import { guardStatement } from "../../statement/guard/guardStatement.ts";
import type { StatementResult } from "../../statement/types.ts";
import { formatHours } from "../formatAge.ts";
import { formatDate } from "../formatDate.ts";
import { countOf, listOf, sentenceCase } from "../inWords.ts";
import { causesSection } from "./causesSection.ts";
import { cautionsSection } from "./cautionsSection.ts";
import { changeSection } from "./changeSection.ts";
import { definitionSection } from "./definitionSection.ts";
import { type Inline, type StatementDocument, type StatementSection, say } from "./document.ts";
import { incidentSection, incidentSentences } from "./incidentSection.ts";
import { methodSection } from "./methodSection.ts";
import { modeName, modesSection } from "./modesSection.ts";
import { documentWithDecimalMark } from "./numberStyle.ts";
import { populationSection, sayPopulation } from "./populationSection.ts";
import { runsSection } from "./runsSection.ts";
import { practiceNames } from "./sayGuard.ts";
import { sayHalfYears } from "./sayHalfYears.ts";
import { sayRateComparison } from "./sayRateComparison.ts";
import { sayFailureFree, sayModeRate, sayToolFailures } from "./sayRates.ts";
import { saySurvival } from "./saySurvival.ts";
import { sayTrend } from "./sayTrend.ts";
import { type Sources, sourcesOf } from "./sources.ts";
import { survivalSection } from "./survivalSection.ts";
import { groupsSection, trendSection } from "./trendSection.ts";

const titles = {
  periodic: "Reliability statement",
  incident: "Incident statement",
  "before and after": "Before and after a change",
} as const;

/** A statement in words, tables and pictures: what page, paper, slides and sheets are all made from. */
export function statementDocument(statement: StatementResult): StatementDocument {
  const sources = sourcesOf(statement, guardStatement(statement));
  const { definition, population, contentHash, provenance } = statement;
  const first =
    definition.kind === "incident"
      ? incidentSection(sources)
      : definition.kind === "before and after"
        ? changeSection(sources)
        : null;
  const sections: readonly (StatementSection | null)[] = [
    first,
    populationSection(sources),
    definitionSection(sources),
    modesSection(sources),
    survivalSection(sources),
    runsSection(sources),
    trendSection(sources),
    groupsSection(sources),
    definition.kind === "before and after" ? null : changeSection(sources),
    definition.kind === "incident" ? null : incidentSection(sources),
    causesSection(sources),
    cautionsSection(sources),
    methodSection(sources),
  ];
  const whose = definition.scope.customer ?? "All customers";
  const document: StatementDocument = {
    title: titles[definition.kind],
    subtitle: `${whose}, ${listOf(population.toolTypes)}, ${formatDate(population.from)} to ${formatDate(population.to)}`,
    summary: summaryOf(sources),
    sections: sections.filter((section) => section !== null),
    contentHash,
    dataHash: provenance.dataHash,
    engineVersion: provenance.engineVersion,
    marking: statement.sample ? "Invented sample data" : null,
  };
  return documentWithDecimalMark(document, definition.decimalMark ?? "point");
}

/** Two minutes for a drilling manager: who, how often, what, how long, trend, what is open, what to beware of. */
function summaryOf(sources: Sources): readonly Inline[] {
  const { statement, guard, own, rates } = sources;
  const { population, toolFailures, toolFailureRate, failureFree, modes, trend, beforeAfter, actions, runHours } =
    statement;
  const [most] = [...modes].sort((a, b) => b.failures - a.failures || (b.rate.value ?? 0) - (a.rate.value ?? 0));
  const weakest = modes
    .filter(({ life }) => life?.survival?.lower != null)
    .sort((a, b) => (a.life?.survival?.lower ?? 1) - (b.life?.survival?.lower ?? 1))[0];
  const beyond = modes.filter(({ life }) => life !== null && life.survival === null).length;
  const open = actions.filter(({ state }) => state === "open").length;
  const stays = guard.filter(({ state }) => state === "stays");
  const change = beforeAfter?.comparisons[0];
  const incident = incidentSentences(sources);
  const { difference } = sayHalfYears(statement);
  return [
    ...(incident === null ? [] : [incident.first, ...incident.items]),
    ...(change ? [sayRateComparison(change, own)] : []),
    sayPopulation(statement, own),
    sayToolFailures(
      { runs: population.runs, hours: population.hours, failures: toolFailures, rate: toolFailureRate },
      rates,
    ),
    sayFailureFree({ ...failureFree, serials: failureFree.bySerial.length }, own),
    ...(most && most.failures > 0 ? [say`Found most often: ${sayModeRate(modeName(most, sources), most, rates)}`] : []),
    ...(weakest?.life
      ? [say`Least sure to last ${formatHours(runHours)}: ${saySurvival(modeName(weakest, sources), weakest.life)}`]
      : []),
    ...(beyond > 0
      ? [
          say`${sentenceCase(countOf(beyond, "mode"))}: nothing is known at ${formatHours(runHours)}, for no life was followed that long.`,
        ]
      : []),
    sayTrend(trend, own),
    ...(difference === null ? [] : [difference]),
    ...(open > 0 ? [say`${sentenceCase(countOf(open, "corrective action is", "corrective actions are"))} open.`] : []),
    ...(stays.length > 0
      ? [
          say`Beware of what these records cannot mend: ${listOf(stays.map(({ practice }) => practiceNames[practice]))}. See the cautions.`,
        ]
      : []),
  ];
}
