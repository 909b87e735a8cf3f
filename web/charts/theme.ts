/** Colours of the charts. Text keeps 4.5 : 1 and marks 3 : 1 against the sheet; tests/web/charts/theme.test.ts computes it. */
export interface ChartTheme {
  readonly name: "light" | "dark";
  /** Behind the whole picture. */
  readonly sheet: string;
  readonly ink: string;
  readonly muted: string;
  /** Grid lines: decoration only, never the one carrier of a meaning. */
  readonly rule: string;
  /** What failed. */
  readonly accent: string;
  /** Fitted lines and their bands. */
  readonly slate: string;
  readonly bandOpacity: number;
  /** Two quiet tones that alternate from run to run. */
  readonly runs: readonly [string, string];
  /** Metal of the tool's drawing, and the space inside it. */
  readonly metal: string;
  readonly bore: string;
  /** Five steps from little to much, always printed with their numbers. */
  readonly steps: readonly [string, string, string, string, string];
  /**
   * Colours of categories, given in the order of their names: Okabe & Ito (2008), "Color universal design", without
   * black and yellow; each moved in lightness only as far as 3 : 1 against the sheet asks.
   */
  readonly categories: readonly string[];
}

export const lightTheme: ChartTheme = {
  name: "light",
  sheet: "#FFFFFF",
  ink: "#1E2326",
  muted: "#5C6165",
  rule: "#DDD8CC",
  accent: "#A8431F",
  slate: "#2B5B74",
  bandOpacity: 0.15,
  runs: ["#C9CDCB", "#A9B0B0"],
  metal: "#E4E2DC",
  bore: "#F7F5F0",
  steps: ["#FAEBE1", "#F0CBB5", "#DFA082", "#C66E48", "#A8431F"],
  categories: ["#0072B2", "#B47C00", "#009E73", "#D55E00", "#B5628F", "#338FC4"],
};

export const darkTheme: ChartTheme = {
  name: "dark",
  sheet: "#1C2024",
  ink: "#E9E5DC",
  muted: "#A3A8AB",
  rule: "#33383C",
  accent: "#E58A63",
  slate: "#7FB3CC",
  bandOpacity: 0.15,
  runs: ["#434A4F", "#5A6268"],
  metal: "#343A3F",
  bore: "#14171A",
  steps: ["#33291F", "#5A3C2D", "#8A5640", "#B87050", "#E58A63"],
  categories: ["#3C9BD6", "#E69F00", "#00B386", "#E8702A", "#CC79A7", "#56B4E9"],
};
