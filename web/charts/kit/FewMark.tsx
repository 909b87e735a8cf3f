import { px } from "../text/numbers.ts";
import type { ChartTheme } from "../theme.ts";

interface FewMarkProps {
  readonly x: number;
  readonly y: number;
  readonly theme: ChartTheme;
  readonly radius?: number;
  readonly colour?: string;
}

/** An estimate that rests on few failures: a hatched disc, so that it is never taken for a firm one. */
export function FewMark({ x, y, theme, radius = 4.5, colour = theme.accent }: FewMarkProps) {
  const chords = [-0.5, 0, 0.5].map((part) => {
    const half = radius * Math.sqrt(1 - part * part) * Math.SQRT1_2;
    const [cx, cy] = [x + part * radius * Math.SQRT1_2, y + part * radius * Math.SQRT1_2];
    return `M${px(cx - half)} ${px(cy + half)}L${px(cx + half)} ${px(cy - half)}`;
  });
  return (
    <g fill="none" stroke={colour}>
      <circle cx={px(x)} cy={px(y)} r={radius} fill={theme.sheet} stroke-width={1.5} />
      <path d={chords.join("")} stroke-width={1} />
    </g>
  );
}
