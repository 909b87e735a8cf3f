import type { FleetResult } from "../../../analysis/index.ts";
import type { ChartTable } from "../../charts/chartTable.ts";

/** The chances of the picture as rows, one a tool. */
export const fleetRows = ({ tools }: FleetResult): ChartTable => ({
  columns: ["serial", "reading", "next_run_h", "chance", "chance_lower", "chance_upper"],
  rows: tools.map(({ serial, reading, nextRun, chance }) => [
    serial,
    reading,
    nextRun.hours,
    chance.value,
    chance.lower,
    chance.upper,
  ]),
});
