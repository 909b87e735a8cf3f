import {
  formatExact,
  formatNumber,
  type ModeRate,
  sayBound,
  sayLevel,
  sayReading,
  type WhatFailsResult,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

interface ModesTableProps {
  readonly result: WhatFailsResult;
  readonly onRows: (mode: ModeRate) => void;
}

const itemOf = ({ toolType, item }: ModeRate) => JSON.stringify([toolType, item]);

/** Items by their highest rate, the modes of each under it; the same order as in the ranking picture. */
function byItem(modes: readonly ModeRate[]): readonly ModeRate[] {
  const groups = new Map<string, ModeRate[]>();
  for (const mode of [...modes].sort((a, b) => (b.rate.value ?? -1) - (a.rate.value ?? -1)))
    groups.set(itemOf(mode), [...(groups.get(itemOf(mode)) ?? []), mode]);
  return [...groups.values()].flat();
}

/** One line a mode, grouped by item. */
export function ModesTable({ result, onRows }: ModesTableProps) {
  const severalTypes = new Set(result.modes.map((mode) => mode.toolType)).size > 1;
  /** An item of one name may sit in several tool types; a link means the one it stands beside. */
  const typeOf = (mode: ModeRate) => (severalTypes ? { toolType: mode.toolType } : {});
  const { confidence } = result.definition;
  const per = "per 1,000 h";
  return (
    <DataTable
      caption="Failure modes, the item with the highest rate first"
      fill
      file="what-fails.csv"
      rows={byItem(result.modes)}
      keyOf={(mode) => `${mode.toolType} ${mode.item} ${mode.mode}`}
      group={{
        title: "Item",
        keyOf: itemOf,
        show: (mode) => (
          <>
            <Link to={{ scope: { item: mode.item, mode: null, ...typeOf(mode) } }}>{mode.item}</Link>
            {severalTypes ? <span class="muted small type-under"> {mode.toolType}</span> : null}
          </>
        ),
      }}
      fileColumns={[
        { title: "Tool type", value: (mode) => mode.toolType },
        { title: "Item", value: (mode) => mode.item },
      ]}
      columns={[
        {
          title: "Mode",
          show: (mode) => (
            <Link to={{ scope: { item: mode.item, mode: mode.mode, ...typeOf(mode) } }}>{mode.mode}</Link>
          ),
          value: (mode) => mode.mode,
        },
        {
          title: "Failures",
          numeric: true,
          show: (mode) => (
            <>
              {mode.few ? <span class="muted">few: </span> : null}
              {mode.failures}
            </>
          ),
          value: (mode) => mode.failures,
        },
        {
          title: "Brought back",
          unit: "tools",
          numeric: true,
          show: (mode) => mode.broughtBack,
          value: (mode) => mode.broughtBack,
        },
        {
          title: "Rate",
          unit: per,
          numeric: true,
          show: (mode) => <strong>{sayReading(mode.rate)}</strong>,
          value: (mode) => mode.rate.value,
        },
        {
          title: sayLevel(confidence, "below"),
          unit: per,
          numeric: true,
          show: (mode) => sayBound(mode.rate, "lower"),
          value: (mode) => mode.rate.lower,
        },
        {
          title: sayLevel(confidence, "above"),
          unit: per,
          numeric: true,
          show: (mode) => sayBound(mode.rate, "upper"),
          value: (mode) => mode.rate.upper,
        },
        {
          title: "Observed",
          unit: "h",
          numeric: true,
          show: (mode) => formatNumber(mode.hours),
          value: (mode) => mode.hours,
        },
        {
          title: "Hours counted",
          show: ({ announces, looks }) =>
            announces === "hidden" ? `inspected, ${formatExact(looks)} times` : "all hours run",
          value: ({ announces }) => (announces === "hidden" ? "inspected" : "run"),
        },
        {
          title: "Life",
          show: (mode) => (
            <Link to={{ view: "item-life", scope: { item: mode.item, mode: mode.mode, ...typeOf(mode) } }}>
              How long
              <span class="unseen">
                {" "}
                does the {mode.item} last before {mode.mode}
              </span>
              ?
            </Link>
          ),
        },
        {
          title: "Rows",
          show: (mode) =>
            mode.lifeIds.length === 0 ? (
              ""
            ) : (
              <button type="button" class="plain" onClick={() => onRows(mode)}>
                Show rows
                <span class="unseen">
                  {" "}
                  of {mode.item}, {mode.mode}
                </span>
              </button>
            ),
        },
      ]}
    />
  );
}
