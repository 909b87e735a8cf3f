import type { Detector } from "./types.ts";

/** Fewer failures than this cannot show that survivors are missing. Common practice, no source. */
const FEW = 5;
/** A share of run hours left unlooked-at that is worth saying. Common practice, no source. */
const SHARE = 0.1;

/** No life in the records ended otherwise than by failure: those that came back good were not written down. */
export const survivorsLeftOut: Detector = ({ evidence, modes }) => {
  if (evidence.failedLives < FEW || evidence.survivors > 0) return null;
  const worst = [...modes].sort((a, b) => b.failures - a.failures)[0];
  return {
    state: "stays",
    misleading: { value: worst?.life?.failedAlone ?? null, unit: "h" },
    honest: { value: null, unit: "h" },
    facts: { failed: evidence.failedLives, item: worst?.item ?? "", mode: worst?.mode ?? "" },
  };
};

/** A good part of the runs has not been looked at: of hidden modes on those tools nothing is known. */
export const onlyReturned: Detector = ({ evidence, population, toolFailures }) => {
  const { runs, hours, failures } = evidence.runsLookedAt;
  if (population.hours === 0 || population.hours - hours <= SHARE * population.hours) return null;
  return {
    state: "stays",
    misleading: { value: hours > 0 ? (1000 * failures) / hours : null, unit: "per 1,000 h" },
    honest: { value: (1000 * toolFailures) / population.hours, unit: "per 1,000 h" },
    facts: { notLookedAt: population.runs - runs, runs: population.runs, hours: Math.round(population.hours - hours) },
  };
};

/** The failure definition is another than in the statement before. */
export const definitionChanged: Detector = ({ evidence: { definitionChanged: changed } }) =>
  changed === null
    ? null
    : {
        state: "put right",
        misleading: { value: changed.now, unit: "failures" },
        honest: { value: changed.before, unit: "failures" },
        facts: {},
      };

/** Items found failed on tools that came in as planned: counted by their condition, not by the reason for coming in. */
export const plannedFailures: Detector = ({ evidence, modes }) => {
  if (evidence.foundAtPlanned === 0) return null;
  const all = modes.reduce((sum, { failures }) => sum + failures, 0);
  return {
    state: "put right",
    misleading: { value: all - evidence.foundAtPlanned, unit: "failures" },
    honest: { value: all, unit: "failures" },
    facts: { found: evidence.foundAtPlanned },
  };
};

/** Runs ended for a tool failure of which the teardown found nothing: kept. */
export const nothingFound: Detector = ({ evidence, toolFailures, population }) => {
  if (evidence.nothingFound === 0 || population.hours === 0) return null;
  return {
    state: "put right",
    misleading: { value: (1000 * (toolFailures - evidence.nothingFound)) / population.hours, unit: "per 1,000 h" },
    honest: { value: (1000 * toolFailures) / population.hours, unit: "per 1,000 h" },
    facts: { runs: evidence.nothingFound },
  };
};
