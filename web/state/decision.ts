/** Costs and allowed risk of a decision as they stand in an address: the same names as the server's. Pure. */
import { type DecisionSettings, usualDecision } from "../../analysis/index.ts";

const names = {
  plannedCost: "planned",
  failureCost: "failure",
  foundCost: "found",
  allowedChance: "risk",
  runHours: "run",
  wellC: "well",
} as const satisfies Readonly<Record<keyof DecisionSettings, string>>;

const accepts: Readonly<Record<keyof DecisionSettings, (value: number) => boolean>> = {
  plannedCost: (value) => value > 0,
  failureCost: (value) => value >= 0,
  foundCost: (value) => value >= 0,
  allowedChance: (value) => value > 0 && value < 1,
  runHours: (value) => value > 0,
  wellC: (value) => value >= -50,
};

/** What cannot be read is left at the usual, never guessed. */
export function readDecision(parameters: URLSearchParams): DecisionSettings {
  const read = (key: keyof DecisionSettings): number | null => {
    const text = parameters.get(names[key])?.trim() ?? "";
    const value = Number(text);
    return text !== "" && Number.isFinite(value) && accepts[key](value) ? value : null;
  };
  return {
    plannedCost: read("plannedCost"),
    failureCost: read("failureCost"),
    foundCost: read("foundCost"),
    allowedChance: read("allowedChance") ?? usualDecision.allowedChance,
    runHours: read("runHours"),
    wellC: read("wellC"),
  };
}

/** Only what differs from the usual is written. */
export function writeDecision(decision: DecisionSettings, parameters: URLSearchParams): void {
  for (const key of Object.keys(names) as (keyof DecisionSettings)[]) {
    const value = decision[key];
    if (value !== null && value !== usualDecision[key]) parameters.set(names[key], String(value));
  }
}

/** Whether a typed number may stand for a setting. */
export const acceptsSetting = (key: keyof DecisionSettings, value: number): boolean =>
  Number.isFinite(value) && accepts[key](value);
