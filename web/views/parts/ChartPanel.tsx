import type { ComponentChildren } from "preact";
import { useRef, useState } from "preact/hooks";
import { type ChartTable, toCsv } from "../../charts/chartTable.ts";
import { type ChartTheme, darkTheme, lightTheme } from "../../charts/theme.ts";
import { copyPicture, savePng, saveSvg } from "../../state/exportPicture.ts";
import { saveFile } from "../../state/saveFile.ts";
import { themeName } from "../../state/theme.ts";
import { type Mark, markAt, markElement, marksOf, readOutOf } from "./marks.ts";
import { useWidth } from "./useWidth.ts";

interface ChartPanelProps {
  /** What the picture is, in a few words: names its files for the reader. */
  readonly name: string;
  readonly file: string;
  readonly draw: (size: { readonly width: number; readonly theme: ChartTheme }) => ComponentChildren;
  readonly table?: () => ChartTable;
  readonly onPick?: (mark: Mark) => void;
  /** What the picture shows, in words: goes along where the picture is copied. */
  readonly sentence?: string;
}

const narrowest = 320;
const widest = 1400;

/**
 * A picture with its read-outs: hover and keyboard focus say the same text, a click or Enter picks what a mark stands
 * for. The arrow keys walk from mark to mark.
 */
export function ChartPanel({ name, file, draw, table, onPick, sentence }: ChartPanelProps) {
  const { area, width } = useWidth<HTMLDivElement>();
  const [says, setSays] = useState("");
  const [trouble, setTrouble] = useState("");
  const focused = useRef<Element | null>(null);
  const theme = themeName.value === "dark" ? darkTheme : lightTheme;

  const walk = (event: KeyboardEvent) => {
    const present = event.target instanceof Element ? markElement(event.target) : null;
    if (area.current === null || present === null) return;
    const marks = marksOf(area.current);
    const next = stepFrom(marks.indexOf(present), marks.length, event.key);
    if (next !== null) {
      event.preventDefault();
      const element = marks[next];
      if (element instanceof SVGElement) {
        present.setAttribute("tabindex", "-1");
        element.setAttribute("tabindex", "0");
        element.focus();
      }
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      pick(present);
    }
  };
  const pick = (element: Element) => {
    const mark = markAt(element);
    if (mark !== null) onPick?.(mark);
  };
  const hover = (target: EventTarget | null) => {
    const mark = (target instanceof Element ? markElement(target) : null) ?? focused.current;
    setSays(mark === null ? "" : readOutOf(mark));
  };
  const save = (how: "svg" | "png") => {
    const picture = area.current?.querySelector("svg") ?? null;
    if (picture === null) return;
    setTrouble("");
    if (how === "svg") saveSvg(picture, `${file}.svg`);
    else savePng(picture, `${file}.png`).catch((cause: unknown) => setTrouble(String(cause)));
  };
  const copy = () => {
    const picture = area.current?.querySelector("svg") ?? null;
    if (picture === null || sentence === undefined) return;
    setTrouble("");
    copyPicture(picture, sentence).then(
      () => setTrouble("Copied, with its sentence."),
      () => setTrouble("This browser does not let the page copy a picture. Save it as PNG instead."),
    );
  };
  const saveTable = () => {
    if (table === undefined) return;
    saveFile(`${file}.csv`, new Blob([toCsv(table())], { type: "text/csv" }));
  };

  return (
    <figure class="chart">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the marks inside are the controls; this listens for all of them */}
      <div
        class="chart-area"
        ref={area}
        onKeyDown={walk}
        onFocusIn={(event) => {
          focused.current = event.target instanceof Element ? markElement(event.target) : null;
          hover(event.target);
        }}
        onFocusOut={() => {
          focused.current = null;
          setSays("");
        }}
        onPointerMove={(event) => hover(event.target)}
        onPointerLeave={() => hover(null)}
        onClick={(event) => {
          if (event.target instanceof Element) pick(event.target);
        }}
      >
        {width > 0 ? draw({ width: Math.min(Math.max(width, narrowest), widest), theme }) : null}
      </div>
      <figcaption class="chart-foot">
        <span class="read-out" aria-hidden="true">
          {trouble || says}
        </span>
        <span class="exports">
          {sentence === undefined ? null : (
            <button type="button" class="plain" onClick={copy}>
              Copy<span class="unseen"> {name} with its sentence</span>
            </button>
          )}
          <span>
            Save <span class="unseen">{name} </span>as
          </span>
          <button type="button" class="plain" onClick={() => save("svg")}>
            SVG
          </button>
          <button type="button" class="plain" onClick={() => save("png")}>
            PNG
          </button>
          {table === undefined ? null : (
            <button type="button" class="plain" onClick={saveTable}>
              CSV
            </button>
          )}
        </span>
      </figcaption>
    </figure>
  );
}

function stepFrom(at: number, count: number, key: string): number | null {
  if (key === "ArrowRight" || key === "ArrowDown") return Math.min(at + 1, count - 1);
  if (key === "ArrowLeft" || key === "ArrowUp") return Math.max(at - 1, 0);
  if (key === "Home") return 0;
  return key === "End" ? count - 1 : null;
}
