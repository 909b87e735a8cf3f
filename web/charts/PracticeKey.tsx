import { gutter } from "./kit/Frame.tsx";
import { Text, textSize, unread } from "./kit/Text.tsx";
import type { PracticeLayout } from "./practiceLayout.ts";
import { textWidth } from "./text/measure.ts";
import { px } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

const keyWords = ["goes with a difference", "no difference shown yet", "as recorded"] as const;

/** What the marks of the comparisons mean. */
export function PracticeKey({
  layout: { keyAt },
  theme,
  width,
}: {
  readonly layout: PracticeLayout;
  readonly theme: ChartTheme;
  readonly width: number;
}) {
  let x = gutter;
  let y = keyAt;
  return (
    <g {...unread}>
      {keyWords.map((words, index) => {
        const room = 14 + textWidth(words, textSize) + 18;
        if (x + room - 18 > width - gutter) {
          x = gutter;
          y += 16;
        }
        const at = x;
        x += room;
        return (
          <g key={words}>
            {index === 2 ? (
              <rect
                x={px(at + 2)}
                y={px(y - 6.5)}
                width={5}
                height={5}
                fill={theme.sheet}
                stroke={theme.muted}
                stroke-width={1.25}
              />
            ) : (
              <circle
                cx={px(at + 4.5)}
                cy={px(y - 4)}
                r={4}
                fill={index === 0 ? theme.accent : theme.sheet}
                stroke={index === 0 ? theme.accent : theme.ink}
                stroke-width={1.5}
              />
            )}
            <Text x={at + 14} y={y} text={words} fill={theme.muted} theme={theme} />
          </g>
        );
      })}
    </g>
  );
}
