import { scaleLog } from "d3-scale";
import { type BuildPracticeResult, type PracticeComparison, sayContrast, sayItems } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { lineHeight } from "./kit/placement.ts";
import { textSize } from "./kit/Text.tsx";
import { wrapText } from "./text/measure.ts";
import { threeDigits } from "./text/numbers.ts";

export interface PracticeRow {
  readonly comparison: PracticeComparison;
  /** Top of the row, first baseline of its words, and the height at which the adjusted multiplier is drawn, in px. */
  readonly top: number;
  readonly wordsAt: number;
  readonly y: number;
  readonly height: number;
  readonly words: readonly string[];
}

export interface PracticeLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Multiplier of life to px, logarithmic, 1 in the middle. */
  readonly x: ReturnType<typeof scaleLog<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly xTitle: string;
  readonly keyAt: number;
  /** Words stand above the bars, over the grid. */
  readonly wordsAbove: boolean;
  readonly rows: readonly PracticeRow[];
}

/** Rows drawn where nobody asks for more: what stands out, what cannot be told, and the nearest of the rest. */
export const practiceRowsAtOnce = 12;

const ticksAt = [0.1, 0.2, 0.5, 1, 2, 5, 10];

/** Comparisons from the first on, as ranked by the result. Words stand left of the bars where there is room, else above them. */
export function practiceLayout(
  { comparisons }: BuildPracticeResult,
  { width, finding, from = 0, to = practiceRowsAtOnce }: ChartSize & { readonly from?: number; readonly to?: number },
): PracticeLayout {
  const beside = width >= 760;
  const wordsWidth = beside ? Math.min(400, 0.42 * width) : width - 2 * gutter;
  const left = beside ? gutter + wordsWidth + 20 : gutter + 8;
  const right = width - gutter - 10;
  const keyAt = header(finding, width).height + 14;
  const top = keyAt + (width < 480 ? 30 : 14);
  let y = top;
  const rows = comparisons.slice(from, to).map((comparison): PracticeRow => {
    const words = wrapText(sayRow(comparison), wordsWidth, textSize, isClaim(comparison) ? "semibold" : "regular");
    const written = words.length * lineHeight(textSize);
    const height = beside ? Math.max(written, 28) + 12 : written + 34;
    const at = y;
    y += height;
    return {
      comparison,
      top: at,
      height,
      words,
      wordsAt: at + (beside ? (height - written) / 2 + 12 : 15),
      y: beside ? at + height / 2 + 3 : at + written + 20,
    };
  });
  const x = scaleLog([0.08, 12.5], [left, right]);
  const xTitle = "Lasts so many times as long (logarithmic)";
  const plot: Plot = { left, right, top, bottom: y + 4 };
  return {
    height: plot.bottom + bottomAxisHeight(xTitle, right - left),
    plot,
    x,
    xTicks: ticksAt.map((times) => ({ at: x(times), text: threeDigits(times) })),
    xTitle,
    keyAt,
    wordsAbove: !beside,
    rows,
  };
}

export const isClaim = ({ verdict }: PracticeComparison): boolean =>
  verdict === "shorter life" || verdict === "longer life";

function sayRow(comparison: PracticeComparison): string {
  const { item, mode, verdict } = comparison;
  const words = `${sayItems(item)} ${sayContrast(comparison)}, ${mode}`;
  const said = verdict === "cannot tell" || verdict === "too few failures" ? `: ${verdict}` : "";
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}${said}`;
}
