import type { Records } from "../../analysis/records/descriptor.ts";
import type { Fleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
export function throughTheSheets(fleet: Fleet): Records {
  return fleet.recorded;
}
