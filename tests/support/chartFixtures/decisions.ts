/** Decisions about a small simulated fleet, invented: worked out once, when first asked for. */
import {
  defaultStudy,
  type FleetResult,
  type Records,
  type RedressIntervalResult,
  runStudy,
  type Scope,
  type SinceDecided,
  usualDecision,
} from "../../../analysis/index.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";

const context = { dataHash: "simulated", statements: [], sample: true };
const once = <T>(make: () => T): (() => T) => {
  let made: T | null = null;
  return () => {
    made ??= make();
    return made;
  };
};
const records = once(() => simulateFleet({ ...defaultFleet, serials: 9, seed: 6, to: "2024-09-30" }).recorded);

function interval(scope: Partial<Scope>, decision = {}, of: Records = records()): RedressIntervalResult {
  const definition = { ...defaultStudy("redress interval", scope), decision: { ...usualDecision, ...decision } };
  const result = runStudy(definition, of, context);
  if (result.kind !== "redress interval") throw new Error(result.kind);
  return result;
}

export const redressIntervalFixture = once(() => interval({ toolType: "axial damper", item: "main seal" }));
/** Nothing stops a job: no interval, no limit. */
export const noIntervalFixture = once(() => interval({ toolType: "axial damper", item: "guide band" }));
/** A decision in the middle of the records. */
export const sinceDecisionFixture = once((): SinceDecided => {
  const decided = {
    ...{ tool_type: "axial damper", item: "whole tool", dated_on: "2023-12-01" },
    ...{ statement: "From this date we redress at 150 h.", interval_h: 150 },
  };
  const { sinceDecided } = interval({ toolType: "axial damper" }, {}, { ...records(), decisions: [decided] });
  if (sinceDecided === null) throw new Error("a decision holds");
  return sinceDecided;
});
export const fleetFixture = once((): FleetResult => {
  const result = runStudy(defaultStudy("fleet"), records(), context);
  if (result.kind !== "fleet") throw new Error(result.kind);
  return result;
});
