import { px } from "../text/numbers.ts";
import type { ChartTheme } from "../theme.ts";

/** Dash of each category, so that colour never stands alone. */
export const categoryDashes: readonly string[] = ["none", "6 3", "2 3", "8 3 2 3", "1 4", "10 4"];

interface CategoryMarkProps {
  readonly order: number;
  readonly x: number;
  readonly y: number;
  readonly theme: ChartTheme;
  /** Drawn hollow: rests on few failures. */
  readonly hollow?: boolean;
}

/** A mark of its own for each category: square, triangle, diamond, cross, upturned triangle, bar. */
export function CategoryMark({ order, x, y, theme, hollow = false }: CategoryMarkProps) {
  const colour = categoryColour(order, theme);
  const at = (dx: number, dy: number): string => `${px(x + dx)} ${px(y + dy)}`;
  const paths = [
    `M${at(-4, -4)}h8v8h-8Z`,
    `M${at(0, -5)}L${at(5, 4)}L${at(-5, 4)}Z`,
    `M${at(0, -5.5)}L${at(5.5, 0)}L${at(0, 5.5)}L${at(-5.5, 0)}Z`,
    `M${at(-1.7, -5)}h3.4v3.3h3.3v3.4h-3.3v3.3h-3.4v-3.3h-3.3v-3.4h3.3Z`,
    `M${at(0, 5)}L${at(5, -4)}L${at(-5, -4)}Z`,
    `M${at(-5.5, -2.5)}h11v5h-11Z`,
  ];
  return (
    <path
      d={paths[order % paths.length] ?? ""}
      fill={hollow ? theme.sheet : colour}
      stroke={colour}
      stroke-width={1.5}
    />
  );
}

export const categoryColour = (order: number, theme: ChartTheme): string =>
  theme.categories[order % theme.categories.length] ?? theme.ink;
