import {
  formatHours,
  formatNumber,
  type LookSensitivity,
  sayLookSensitivity,
  sayWhyNoPart,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Notices } from "../parts/Notices.tsx";

/** What if inspections were no accident, or missed what was there? */
export function LookSensitivityPart({ part }: { readonly part: LookSensitivity }) {
  const nothing = sayWhyNoPart(part);
  if (nothing !== null) return <p class="muted">{nothing}</p>;
  return (
    <div class="stack">
      <p>{sayLookSensitivity(part)}</p>
      {part.dependence.length === 0 ? null : (
        <Rows
          caption="If this failure and the other of the same item hang together"
          heading="Rank correlation"
          rows={part.dependence}
          say={(tau) => (tau === 0 ? "0 (used here)" : formatNumber(tau))}
        />
      )}
      {part.detection.length === 0 ? null : (
        <Rows
          caption="If an inspection sees only some of what is there"
          heading="It sees"
          rows={part.detection}
          say={(seen) => `${formatNumber(100 * seen)} %${seen === 1 ? " (used here)" : ""}`}
        />
      )}
      <Notices notices={part.notices} />
    </div>
  );
}

interface RowsProps {
  readonly caption: string;
  readonly heading: string;
  readonly rows: LookSensitivity["dependence"];
  readonly say: (setting: number) => string;
}

function Rows({ caption, heading, rows, say }: RowsProps) {
  const age = (hours: number | null): string => (hours === null ? "not known" : formatHours(hours));
  return (
    <DataTable
      caption={caption}
      rows={rows}
      keyOf={({ setting }) => String(setting)}
      columns={[
        { title: heading, show: ({ setting }) => say(setting), value: ({ setting }) => setting },
        { title: "One in ten has failed by", numeric: true, show: ({ b10 }) => age(b10), value: ({ b10 }) => b10 },
        {
          title: "Half have failed by",
          numeric: true,
          show: ({ median }) => age(median),
          value: ({ median }) => median,
        },
      ]}
    />
  );
}
