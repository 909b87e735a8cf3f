import type { StatementTrend } from "../../statement/types.ts";
import { countOf } from "../inWords.ts";
import { type Inline, say } from "./document.ts";
import { countFigure, formatP } from "./figures.ts";

/** Whether runs that the tool ended come closer together as the tools run on. */
export function sayTrend({ failures, systems, laplace, handbook, direction }: StatementTrend, result: string): Inline {
  const from = say`${countFigure(failures, "run that the tool ended", result, "runs that the tool ended")}, on ${countOf(systems, "tool")}`;
  const tests =
    laplace && handbook
      ? say` (Laplace p ${{ text: formatP(laplace.pValue), value: laplace.pValue, result }}, chi-square p ${{ text: formatP(handbook.pValue), value: handbook.pValue, result }})`
      : say``;
  switch (direction) {
    case "too few failures":
      return say`Whether tools end their runs more or less often as they run on cannot be told from ${from}.`;
    case "none shown":
      return say`No trend is shown over the hours of the tools, from ${from}${tests}. That is not proof that there is none.`;
    case "improving":
      return say`Runs that the tool ended come further apart as the tools run on, from ${from}${tests}: one rate for the whole period overstates the present one.`;
    case "worsening":
      return say`Runs that the tool ended come closer together as the tools run on, from ${from}${tests}: one rate for the whole period understates the present one.`;
  }
}
