/** Decisions about a small simulated fleet, invented: worked out once, when first asked for. */
import {
  defaultStudy,
  type FleetResult,
  type RedressIntervalResult,
  runStudy,
  type Scope,
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

function interval(scope: Partial<Scope>, decision = {}): RedressIntervalResult {
  const definition = { ...defaultStudy("redress interval", scope), decision: { ...usualDecision, ...decision } };
  const result = runStudy(definition, records(), context);
  if (result.kind !== "redress interval") throw new Error(result.kind);
  return result;
}

export const redressIntervalFixture = once(() => interval({ toolType: "axial damper", item: "main seal" }));
/** Nothing stops a job: no interval, no limit. */
export const noIntervalFixture = once(() => interval({ toolType: "axial damper", item: "guide band" }));
export const fleetFixture = once((): FleetResult => {
  const result = runStudy(defaultStudy("fleet"), records(), context);
  if (result.kind !== "fleet") throw new Error(result.kind);
  return result;
});
