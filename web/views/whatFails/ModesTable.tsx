import { formatExact, formatNumber, type ModeRate, type WhatFailsResult } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";
import { sayBound, sayLevel, sayValueOf } from "../words.ts";

interface ModesTableProps {
  readonly result: WhatFailsResult;
  readonly onRows: (mode: ModeRate) => void;
}

/** One line a mode of an item, highest rate first. */
export function ModesTable({ result, onRows }: ModesTableProps) {
  const severalTypes = new Set(result.modes.map((mode) => mode.toolType)).size > 1;
  /** An item of one name may sit in several tool types; a link means the one it stands beside. */
  const typeOf = (mode: ModeRate) => (severalTypes ? { toolType: mode.toolType } : {});
  const { confidence } = result.definition;
  return (
    <DataTable
      caption="Failure modes, highest rate first"
      fill
      file="what-fails.csv"
      rows={result.modes}
      keyOf={(mode) => `${mode.toolType} ${mode.item} ${mode.mode}`}
      columns={[
        {
          title: "Item",
          show: (mode) => (
            <>
              <Link to={{ scope: { item: mode.item, ...typeOf(mode) } }}>{mode.item}</Link>
              {severalTypes ? <span class="muted type-under">{mode.toolType}</span> : null}
            </>
          ),
          value: (mode) => mode.item,
        },
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
        { title: "Brought back", numeric: true, show: (mode) => mode.broughtBack, value: (mode) => mode.broughtBack },
        {
          title: "Per 1,000 h",
          numeric: true,
          show: (mode) => <strong>{sayValueOf(mode.rate)}</strong>,
          value: (mode) => mode.rate.value,
        },
        {
          title: sayLevel(confidence, "below"),
          numeric: true,
          show: (mode) => sayBound(mode.rate, "lower"),
          value: (mode) => mode.rate.lower,
        },
        {
          title: sayLevel(confidence, "above"),
          numeric: true,
          show: (mode) => sayBound(mode.rate, "upper"),
          value: (mode) => mode.rate.upper,
        },
        {
          title: "Hours",
          numeric: true,
          show: (mode) => `${formatNumber(mode.hours)} ${mode.announces === "hidden" ? "inspected" : "run"}`,
          value: (mode) => mode.hours,
        },
        {
          title: "Looks",
          numeric: true,
          show: (mode) => (mode.announces === "hidden" ? formatExact(mode.looks) : ""),
          value: (mode) => mode.looks,
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
                Show
                <span class="unseen">
                  {" "}
                  rows of {mode.item}, {mode.mode}
                </span>
              </button>
            ),
        },
      ]}
    />
  );
}
