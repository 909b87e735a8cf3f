import {
  type StatementPicture,
  type StatementResult,
  tellingComparisons,
  type WhatFailsResult,
  withDecimalMark,
} from "../../analysis/index.ts";
import {
  type ChartTheme,
  ComparisonsChart,
  comparisonRows,
  lightTheme,
  RateChart,
  RatesOverTime,
  SurvivalChart,
} from "../../web/charts/index.ts";
import { toSvgText } from "../../web/charts/toSvgText.ts";

export interface PictureSize {
  /** In px. */
  readonly width: number;
  readonly theme?: ChartTheme;
  /** Only so many rows of rates or comparisons, those that say most; all where left out. */
  readonly most?: number;
}

/**
 * A picture of a statement as the text of an SVG file, drawn by the chart that the views show.
 * Errors  a plain Error where the statement lacks what the picture draws: that is a fault of the program.
 */
export function drawPicture(picture: StatementPicture, statement: StatementResult, size: PictureSize): string {
  const mark = statement.definition.decimalMark ?? "point";
  const said = (text: string): string => withDecimalMark(text, mark);
  return drawn(picture, statement, size)
    .replace(/(?<=>)[^<]+(?=<)/g, said)
    .replace(/(?<= aria-label=")[^"]+(?=")/g, said);
}

function drawn(
  picture: StatementPicture,
  { pictures, beforeAfter }: StatementResult,
  { width, theme = lightTheme, most }: PictureSize,
): string {
  const common = { theme, width, finding: picture.finding, id: picture.id, interactive: false };
  switch (picture.draws) {
    case "rates":
      return toSvgText(<RateChart {...common} result={withMost(pictures.whatFails, most)} />);
    case "over time":
      return toSvgText(<RatesOverTime {...common} result={pictures.whatFails} />);
    case "survival": {
      const life = pictures.lives[picture.index];
      if (life === undefined) throw new Error(`The statement has no life ${picture.index} to draw.`);
      return toSvgText(<SurvivalChart {...common} result={life} />);
    }
    case "comparisons":
      if (beforeAfter === null) throw new Error("The statement has no comparison to draw.");
      return toSvgText(
        <ComparisonsChart
          {...common}
          result={comparisonRows({ ...beforeAfter, comparisons: tellingComparisons(beforeAfter, most) })}
        />,
      );
  }
}

function withMost(result: WhatFailsResult, most = result.modes.length): WhatFailsResult {
  const ranked = [...result.modes].sort((a, b) => (b.rate.value ?? -1) - (a.rate.value ?? -1));
  return { ...result, modes: ranked.slice(0, most) };
}
