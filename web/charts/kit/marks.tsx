/** The grammar of marks, the same in every chart. */
import type { ComponentChildren } from "preact";
import { px } from "../text/numbers.ts";
import type { ChartTheme } from "../theme.ts";

interface At {
  readonly x: number;
  readonly y: number;
  readonly theme: ChartTheme;
  readonly radius?: number;
  readonly colour?: string;
}

/** Failed at a known age. */
export function ExactMark({ x, y, theme, radius = 3.5, colour = theme.accent }: At) {
  return <circle cx={px(x)} cy={px(y)} r={radius} fill={colour} />;
}

/** Survived so far: an open disc with a short arrow to the right. */
export function CensoredMark({ x, y, theme, radius = 3.5, colour = theme.ink }: At) {
  const from = x + radius;
  const to = from + 2.2 * radius;
  const head = 0.7 * radius;
  return (
    <g fill="none" stroke={colour} stroke-width={radius < 3 ? 1 : 1.25}>
      <circle cx={px(x)} cy={px(y)} r={radius} fill={theme.sheet} />
      <path
        d={`M${px(from)} ${px(y)}H${px(to)}M${px(to - head)} ${px(y - head)}L${px(to)} ${px(y)}L${px(to - head)} ${px(y + head)}`}
      />
    </g>
  );
}

interface Span {
  readonly from: number;
  readonly to: number;
  readonly y: number;
  readonly theme: ChartTheme;
  readonly cap?: number;
  readonly colour?: string;
  readonly thickness?: number;
  /** Leaves the cap off where the span goes on beyond the picture. */
  readonly open?: "from" | "to" | "both";
}

/** Known only between two ages: a bar from one to the other with caps. Bounds of an estimate are drawn so too. */
export function CappedBar({ from, to, y, theme, cap = 4, colour = theme.accent, thickness = 1.75, open }: Span) {
  const left = open === "from" || open === "both" ? "" : `M${px(from)} ${px(y - cap)}V${px(y + cap)}`;
  const right = open === "to" || open === "both" ? "" : `M${px(to)} ${px(y - cap)}V${px(y + cap)}`;
  return (
    <path d={`M${px(from)} ${px(y)}H${px(to)}${left}${right}`} fill="none" stroke={colour} stroke-width={thickness} />
  );
}

interface UprightSpan extends Omit<Span, "from" | "to" | "y"> {
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
}

/** A capped bar that stands upright: bounds of a share at one age. */
export function UprightBar({ x, top, bottom, theme, cap = 4, colour = theme.slate, thickness = 1.75 }: UprightSpan) {
  const caps = `M${px(x - cap)} ${px(top)}H${px(x + cap)}M${px(x - cap)} ${px(bottom)}H${px(x + cap)}`;
  return <path d={`M${px(x)} ${px(top)}V${px(bottom)}${caps}`} fill="none" stroke={colour} stroke-width={thickness} />;
}

interface TargetProps {
  /** What hover and keyboard focus read out. */
  readonly label: string;
  readonly data?: {
    readonly [name in "life" | "lives" | "practice" | "row" | "type" | "item" | "mode" | "period" | "reading"]?: string;
  };
  readonly interactive?: boolean;
  /** In a group of many marks only the first is a stop; the page moves on with the arrow keys. */
  readonly stop?: boolean;
  readonly children: ComponentChildren;
}

/** A mark that can be pointed at, focused and clicked; the view around the picture listens. */
export function Target({ label, data = {}, interactive = true, stop = true, children }: TargetProps) {
  const attributes = Object.fromEntries(Object.entries(data).map(([name, value]) => [`data-${name}`, value]));
  return (
    <g
      {...attributes}
      {...(interactive ? { role: "button", tabindex: stop ? 0 : -1 } : { role: "img" })}
      aria-label={label}
      data-mark="mark"
    >
      {children}
    </g>
  );
}

/** An invisible area that widens a thin mark for the pointer. */
export function HitArea({
  x,
  y,
  width,
  height,
}: {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}) {
  return (
    <rect
      x={px(x)}
      y={px(y)}
      width={px(Math.max(0, width))}
      height={px(Math.max(0, height))}
      fill="none"
      pointer-events="all"
    />
  );
}

/** More marks than this in a group are one keyboard stop, not many. */
export const mostStops = 40;
