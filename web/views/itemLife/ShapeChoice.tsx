import { useState } from "preact/hooks";
import {
  type ItemLifeResult,
  readShape,
  type ShapeChoice as Shape,
  sayShapeFinding,
  writeShape,
} from "../../../analysis/index.ts";
import { ShapeBeliefChart } from "../../charts/ShapeBeliefChart.tsx";
import { move, place } from "../../state/navigation.ts";
import { fileName } from "../../state/saveFile.ts";
import { ChartPanel } from "../parts/ChartPanel.tsx";

/** From this many failures on the lives tell their shape by themselves. Common practice, no source. */
const ENOUGH = 10;

/** Few failures hardly tell how fast the risk grows: a shape from elsewhere may be taken, and what was believed is drawn. */
export function ShapeChoice({ result }: { readonly result: ItemLifeResult }) {
  const { counts, shapeTaken, linked, mode } = result;
  const { shape } = place.value.settings;
  if (counts.lives === 0 || linked?.defect === mode) return null;
  if (counts.failures >= ENOUGH && shape === null) return null;
  return (
    <details class="how small" open={shape !== null}>
      <summary>
        {shape === null
          ? "Too few failures to tell the shape: take one from elsewhere"
          : "The shape is taken from elsewhere"}
      </summary>
      <div class="reading-choices">
        <button type="button" aria-pressed={shape?.kind === "pooled"} onClick={() => take({ kind: "pooled" })}>
          As the other modes and sizes tell
        </button>
        <RangeForm shape={shape} />
        {shape === null ? null : (
          <button type="button" onClick={() => take(null)}>
            From these lives alone
          </button>
        )}
      </div>
      {shapeTaken?.curves == null ? null : (
        <ChartPanel
          name="what is believed of the shape"
          file={fileName([result.item, mode, "shape"], "").slice(0, -1)}
          draw={(size) => <ShapeBeliefChart result={shapeTaken} finding={sayShapeFinding(shapeTaken)} {...size} />}
        />
      )}
    </details>
  );
}

const take = (shape: Shape | null): void => move({ settings: { shape } });

/** "2" or "1.5-3" in one field. */
function RangeForm({ shape }: { readonly shape: Shape | null }) {
  const [text, setText] = useState(shape === null || shape.kind === "pooled" ? "" : writeShape(shape));
  const [wrong, setWrong] = useState(false);
  const give = (event: Event) => {
    event.preventDefault();
    const written = readShape(text.trim().replace(/\s*(?:–|-|to)\s*/, "-"));
    setWrong(written === null);
    if (written !== null) take(written);
  };
  return (
    <form class="reading-choices" onSubmit={give}>
      <label class="field">
        Shape, or a range you are 90 % sure of
        <input
          type="text"
          value={text}
          placeholder="2, or 1.5-3"
          aria-invalid={wrong}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <button type="submit">Take it</button>
      {wrong ? <span role="alert">Write one number above 0, such as 2, or a range, such as 1.5-3.</span> : null}
    </form>
  );
}
