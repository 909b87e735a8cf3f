import {
  drawingRows,
  historiesRows,
  probabilityRows,
  rateRows,
  ratesOverTimeRows,
  survivalRows,
  toolHistoryRows,
} from "../../../web/charts/chartRows.ts";
import type { ChartTable } from "../../../web/charts/chartTable.ts";
import { itemLifeFixture, toolHistoryFixture, whatFailsFixture } from "../../support/chartFixtures.ts";

const life = itemLifeFixture();
const fails = whatFailsFixture();

/** Every table on an invented result. */
export const chartRowsFor: readonly (readonly [name: string, table: ChartTable])[] = [
  ["survival", survivalRows(life)],
  ["probability", probabilityRows(life)],
  ["histories", historiesRows(life)],
  ["rates", rateRows(fails)],
  ["rates over time", ratesOverTimeRows(fails)],
  ["rates over time of one mode", ratesOverTimeRows(fails, [{ item: "main seal", mode: "extrusion" }])],
  ["drawing", drawingRows(fails)],
  ["tool history", toolHistoryRows(toolHistoryFixture())],
];
