import {
  formatSize,
  type PracticeComparison,
  type PracticeDetail,
  saySettling,
  saySides,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";

interface WhatWouldSettleProps {
  readonly detail: PracticeDetail;
  readonly comparison: PracticeComparison;
}

/** How many failures and runs it takes to know, and a plan by serial in which nothing else differs. */
export function WhatWouldSettle({ detail, comparison }: WhatWouldSettleProps) {
  const plan = detail.settling?.plan ?? [];
  const [at, against] = saySides(comparison);
  return (
    <div class="stack">
      <h3 class="table-name">What would settle it</h3>
      <p class="small">{saySettling(detail)}</p>
      {plan.length === 0 ? null : (
        <details>
          <summary>A trial by serial, alternating at each redress</summary>
          <p class="small muted">
            At its next redress each serial begins with the side named; at the redress after, the other one, and so on.
            Both sides must lie within the maker's limits.
          </p>
          <DataTable
            caption="Trial by serial"
            hideCaption
            rows={plan}
            keyOf={({ serial }) => serial}
            file={fileName(["trial", comparison.practice, comparison.item, comparison.mode], "csv")}
            columns={[
              { title: "Serial", show: ({ serial }) => <SerialLink serial={serial} />, value: ({ serial }) => serial },
              { title: "Tool type", show: ({ toolType }) => toolType, value: ({ toolType }) => toolType },
              {
                title: "Size",
                show: ({ sizeIn }) => (sizeIn === null ? "" : formatSize(sizeIn)),
                value: ({ sizeIn }) => sizeIn,
              },
              {
                title: "Begins with",
                show: ({ first }) => (first === "at" ? at : against),
                value: ({ first }) => (first === "at" ? at : against),
              },
            ]}
          />
        </details>
      )}
    </div>
  );
}
