import {
  type CostUsed,
  formatEstimate,
  formatExact,
  formatNumber,
  type ModeInDecision,
  type RedressIntervalResult,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

/** The modes that the redress restores: how each acts, its law, its share of the cost; those with a clock of their own below. */
export function IntervalModesTable({ result }: { readonly result: RedressIntervalResult }) {
  const age = result.recommended === null ? "over all hours looked at" : "per redress at the interval of least cost";
  return (
    <>
      <DataTable
        caption={`What the redress restores, ${age}`}
        fill
        file={fileName(["interval modes", result.item ?? result.toolType], "csv")}
        rows={result.modes}
        keyOf={({ item, mode }) => `${item} ${mode}`}
        columns={[
          {
            title: "Mode",
            show: (row) => (
              <Link
                to={{
                  view: "item-life",
                  scope: { toolType: result.toolType, item: row.item, mode: row.defect ?? row.mode },
                }}
              >
                {row.item}, {row.defect === null ? row.mode : `${row.defect} then ${row.mode}`}
              </Link>
            ),
            value: (row) => `${row.item}, ${row.defect === null ? row.mode : `${row.defect} then ${row.mode}`}`,
          },
          { title: "Acts", show: acts, value: acts },
          {
            title: "Failures",
            numeric: true,
            show: (row) => `${formatExact(row.failures)} of ${formatExact(row.lives)}`,
            value: ({ failures }) => failures,
          },
          {
            title: "Shape",
            numeric: true,
            show: (row) => (row.law === "constant rate" ? "constant rate" : formatEstimate(row.shape)),
            value: ({ shape }) => shape.value,
          },
          {
            title: "Stops a job",
            unit: "%",
            numeric: true,
            show: ({ kind, perCycle }) => (kind === "hidden" ? "–" : formatNumber(100 * perCycle.stops)),
            value: ({ perCycle }) => perCycle.stops,
          },
          {
            title: "Found in the shop",
            unit: "%",
            numeric: true,
            show: ({ kind, perCycle }) => (kind === "evident" ? "–" : formatNumber(100 * perCycle.found)),
            value: ({ perCycle }) => perCycle.found,
          },
          {
            title: "Share of cost",
            unit: "%",
            numeric: true,
            show: ({ perCycle }) => formatNumber(100 * perCycle.costShare),
            value: ({ perCycle }) => perCycle.costShare,
          },
          {
            title: "Stop costs",
            numeric: true,
            show: ({ stops }) => cost(stops),
            value: ({ stops }) => stops?.amount ?? null,
          },
        ]}
      />
      {result.ownClock.length === 0 ? null : (
        <p class="muted small">
          Not counted, since fewer than half of the planned redresses restore them, so that they run on a clock of their
          own:{" "}
          {result.ownClock
            .map(({ item, mode, renewedShare }) => `${item}, ${mode} (${formatNumber(100 * renewedShare)} %)`)
            .join("; ")}
          .
        </p>
      )}
    </>
  );
}

const cost = (used: CostUsed | null): string => (used === null ? "–" : formatNumber(used.amount));

function acts({ kind }: ModeInDecision): string {
  return kind === "hidden" ? "waits for the shop" : kind === "evident" ? "stops the job" : "waits, then stops the job";
}
