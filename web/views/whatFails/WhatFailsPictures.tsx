import { sayFleetFinding, type WhatFailsResult } from "../../../analysis/index.ts";
import { drawingRows, rateRows } from "../../charts/chartRows.ts";
import { RateChart } from "../../charts/RateChart.tsx";
import { ToolDrawing } from "../../charts/ToolDrawing.tsx";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import type { Mark } from "../parts/marks.ts";
import { OverTime } from "./OverTime.tsx";

interface WhatFailsPicturesProps {
  readonly result: WhatFailsResult;
  readonly onPick: (mark: Mark) => void;
}

/** Which modes, where in the tool, and whether it changes. A click narrows the scope. */
export function WhatFailsPictures({ result, onPick }: WhatFailsPicturesProps) {
  return (
    <>
      <ChartPanel
        name="the ranking"
        file="what-fails-ranking"
        table={() => rateRows(result)}
        draw={(size) => <RateChart result={result} finding={sayFleetFinding(result, "rates")} {...size} />}
        onPick={onPick}
      />
      {result.drawing.length === 0 ? null : (
        <ChartPanel
          name="the drawing of the tool"
          file="what-fails-tool"
          table={() => drawingRows(result)}
          draw={(size) => <ToolDrawing result={result} finding={sayFleetFinding(result, "drawing")} {...size} />}
          onPick={onPick}
        />
      )}
      {result.periods.length < 2 ? null : <OverTime result={result} onPick={onPick} />}
    </>
  );
}
