import type { Detector } from "./types.ts";

/** Groups differ where chance alone would make such a difference less often than this. */
const DIFFERS = 0.05;

/** Tool types, sizes, muds or customers with unlike rates in one number. */
export const unlikePooled: Detector = ({ evidence, toolFailureRate }) => {
  const [worst] = evidence.strata.filter(({ pValue }) => pValue < DIFFERS).sort((a, b) => a.pValue - b.pValue);
  if (!worst) return null;
  const [high] = worst.groups;
  const low = worst.groups.at(-1);
  return {
    state: "put right",
    misleading: { value: toolFailureRate.value, unit: "per 1,000 h" },
    honest: { value: high?.rate.value ?? null, unit: "per 1,000 h" },
    facts: {
      by: worst.by,
      highest: high?.name ?? "",
      lowest: low?.name ?? "",
      lowestRate: low?.rate.value ?? 0,
      p: worst.pValue,
    },
  };
};

/** Circulating, drilling and below-rotary hours added up. */
export const hoursMixed: Detector = ({ evidence: { hoursKinds }, definition, toolFailures, population }) => {
  const written = hoursKinds.filter(({ kind }) => kind !== "not written");
  if (written.length < 2) return null;
  const [usual] = written;
  const clock = definition.hoursKind ?? usual?.kind ?? "";
  const own = written.find(({ kind }) => kind === clock);
  return {
    state: "stays",
    misleading: { value: population.hours > 0 ? (1000 * toolFailures) / population.hours : null, unit: "per 1,000 h" },
    honest: { value: null, unit: "per 1,000 h" },
    facts: {
      clock,
      others: written
        .filter(({ kind }) => kind !== clock)
        .map(({ kind, runs }) => `${kind} (${runs} runs)`)
        .join(", "),
      ownRuns: own?.runs ?? 0,
    },
  };
};

/** Failures a month say how busy the tools were. */
export const calendarRate: Detector = ({ definition, evidence, toolFailures, toolFailureRate }) =>
  definition.asked.includes("failures a month")
    ? {
        state: "put right",
        misleading: { value: toolFailures / evidence.months, unit: "a month" },
        honest: { value: toolFailureRate.value, unit: "per 1,000 h" },
        facts: { months: evidence.months },
      }
    : null;

/** A run length beyond every life followed. */
export const beyondExperience: Detector = ({ modes, runHours }) => {
  const beyond = modes.filter(({ life }) => life !== null && life.counts.lives > 0 && life.survival === null);
  const worst = [...beyond].sort((a, b) => (a.life?.longestAge ?? 0) - (b.life?.longestAge ?? 0))[0];
  if (!worst?.life) return null;
  return {
    state: "put right",
    misleading: {
      value: worst.life.beyondExperience === null ? null : 100 * worst.life.beyondExperience,
      unit: "%",
    },
    honest: { value: worst.life.longestAge, unit: "h" },
    facts: { modes: beyond.length, item: worst.item, mode: worst.mode, age: runHours },
  };
};
