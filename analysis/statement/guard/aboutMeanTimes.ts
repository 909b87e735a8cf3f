import type { StatementMode } from "../types.ts";
import type { Detector } from "./types.ts";

const withFailures = (modes: readonly StatementMode[]): readonly StatementMode[] =>
  modes.filter(({ failures }) => failures > 0);

/** Asked for one mean time between failures, and it would be over several modes, or of one that does not carry it. */
export const mixedMeanTime: Detector = ({ definition, modes, population }) => {
  if (!definition.asked.includes("mean time between failures")) return null;
  const failed = withFailures(modes);
  const total = failed.reduce((sum, { failures }) => sum + failures, 0);
  const unsaid = failed.filter(({ meanTime }) => !meanTime.mayBeSaid);
  if (total === 0 || (failed.length === 1 && unsaid.length === 0)) return null;
  const most = [...failed].sort((a, b) => b.failures - a.failures)[0];
  return {
    state: "put right",
    misleading: { value: population.hours / total, unit: "h" },
    honest: { value: most?.rate.value ?? null, unit: "per 1,000 h" },
    facts: {
      modes: failed.length,
      unsaid: unsaid.length,
      item: most?.item ?? "",
      mode: most?.mode ?? "",
    },
  };
};

/** A mean time is printed; it may be read as a life that every item reaches. */
export const meanTimeAsLife: Detector = ({ definition, modes }) => {
  if (!definition.asked.includes("mean time between failures")) return null;
  const said = modes.find(({ meanTime }) => meanTime.mayBeSaid && meanTime.meanTime !== null);
  if (!said) return null;
  const { meanTime, survivalAtMeanTime } = said.meanTime;
  return {
    state: "put right",
    misleading: { value: meanTime?.value ?? null, unit: "h" },
    // Without a fitted law: a constant rate, exp(-1).
    honest: { value: 100 * (survivalAtMeanTime ?? Math.exp(-1)), unit: "%" },
    facts: {
      item: said.item,
      mode: said.mode,
      from: survivalAtMeanTime === null ? "a constant rate" : "the fitted lives",
    },
  };
};
