/** Shapes of what happens to a tool, and their entries in the key. */
import { CappedBar, ExactMark } from "./kit/marks.tsx";
import { px } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";
import type { HistoryMark } from "./toolHistoryLayout.ts";

/** A six-cornered nut: taken apart and looked at; filled where it found a failure, dashed where seen from outside only. */
export function TeardownShape({
  x,
  y,
  failed,
  outside,
  theme,
}: {
  readonly x: number;
  readonly y: number;
  readonly failed: boolean;
  readonly outside: boolean;
  readonly theme: ChartTheme;
}) {
  return (
    <path
      d={`M${px(x - 5)} ${px(y)}l2.5 -4.5h5l2.5 4.5l-2.5 4.5h-5Z`}
      fill={failed ? theme.accent : theme.sheet}
      stroke={failed ? theme.accent : theme.ink}
      stroke-width={1.25}
      stroke-dasharray={outside ? "2 1.5" : "none"}
    />
  );
}

/** A house-shaped pointer down to the ages it restores. */
export function RedressShape({ x, y, theme }: { readonly x: number; readonly y: number; readonly theme: ChartTheme }) {
  return <path d={`M${px(x - 4)} ${px(y - 6)}h8v6l-4 5l-4 -5Z`} fill={theme.ink} />;
}

/** One entry of the key. */
export function KeyMark({
  mark,
  x,
  y,
  theme,
}: {
  readonly mark: HistoryMark;
  readonly x: number;
  readonly y: number;
  readonly theme: ChartTheme;
}) {
  switch (mark) {
    case "run":
      return (
        <rect
          x={px(x + 3)}
          y={px(y - 6)}
          width={20}
          height={12}
          fill={theme.runs[0]}
          stroke={theme.muted}
          stroke-width={0.75}
        />
      );
    case "teardown":
      return <TeardownShape x={x + 13} y={y} failed={false} outside={false} theme={theme} />;
    case "redress":
      return <RedressShape x={x + 13} y={y} theme={theme} />;
    case "exact":
      return <ExactMark x={x + 13} y={y} theme={theme} />;
    case "interval":
      return <CappedBar from={x + 4} to={x + 22} y={y} theme={theme} />;
    case "age":
      return (
        <path d={`M${px(x + 2)} ${px(y + 5)}l10 -10v10l10 -10`} fill="none" stroke={theme.slate} stroke-width={1.75} />
      );
  }
}
