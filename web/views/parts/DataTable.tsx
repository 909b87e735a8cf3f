import { type ComponentChildren, Fragment } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { formatExact } from "../../../analysis/index.ts";
import { type Cell, toCsv } from "../../charts/chartTable.ts";
import { saveFile } from "../../state/saveFile.ts";

export interface Column<T> {
  readonly title: string;
  /** Unit of every number of the column, under its title. */
  readonly unit?: string;
  /** What is shown; the first column is the row's heading. */
  readonly show: (row: T) => ComponentChildren;
  /** What goes into the file: full precision, one value a cell. Left out: the column is not exported. */
  readonly value?: (row: T) => Cell;
  readonly numeric?: true;
}

interface DataTableProps<T> {
  readonly caption: string;
  readonly hideCaption?: boolean;
  readonly columns: readonly Column<T>[];
  readonly rows: readonly T[];
  readonly keyOf: (row: T) => string;
  readonly picked?: (row: T) => boolean;
  /** File name of the export; left out where there is nothing to take away. */
  readonly file?: string;
  /** Columns that the file has before those shown: what a heading says once for several rows. */
  readonly fileColumns?: readonly { readonly title: string; readonly value: (row: T) => Cell }[];
  readonly fill?: boolean;
  /** Rows shown at first, and more with each press; the file has them all. Left out: every row. */
  readonly most?: number;
  /** Rows that belong together, one after the other: a heading above them, or, with a title, a column that says it once. */
  readonly group?: {
    readonly title?: string;
    readonly keyOf: (row: T) => string;
    readonly show: (row: T) => ComponentChildren;
  };
}

/** A table that scrolls inside its own region and can be taken away as CSV. */
export function DataTable<T>({
  caption,
  hideCaption = false,
  columns,
  rows,
  keyOf,
  picked,
  file,
  fileColumns = [],
  fill = false,
  most = Number.POSITIVE_INFINITY,
  group,
}: DataTableProps<T>) {
  const [more, setMore] = useState(0);
  const shown = rows.length <= most + more ? rows : rows.slice(0, most + more);
  const area = useRef<HTMLDivElement>(null);
  const scrolls = useScrolls(area);
  const spans = group?.title !== undefined;
  const exported = [...fileColumns, ...columns.filter((column) => column.value !== undefined)];
  const save = () =>
    saveFile(
      file ?? "table.csv",
      new Blob(
        [
          toCsv({
            columns: exported.map(headingOf),
            rows: rows.map((row) => exported.map((column) => column.value?.(row) ?? null)),
          }),
        ],
        { type: "text/csv" },
      ),
    );
  return (
    <div>
      <div
        class="table-area"
        ref={area}
        {...(scrolls ? { role: "region", tabIndex: 0, "aria-label": `${caption}, scrolls sideways` } : {})}
      >
        <table
          class={[fill ? "wide" : "", fill && columns.length >= 5 ? "roomy" : "", spans ? "grouped" : ""]
            .join(" ")
            .trim()}
        >
          <caption class={hideCaption ? "unseen" : undefined}>
            <span>{caption}</span>
          </caption>
          <thead>
            <tr>
              {spans ? <th scope="col">{group?.title}</th> : null}
              {columns.map((column) => (
                <th key={column.title} scope="col" class={column.numeric ? "number" : undefined}>
                  {column.title}
                  {column.unit === undefined ? null : <span class="unit"> {column.unit}</span>}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {shown.map((row, index) => (
              <Fragment key={keyOf(row)}>
                {group !== undefined && !spans && startsGroup(shown, index, group.keyOf) ? (
                  <tr class="group">
                    <th scope="rowgroup" colSpan={columns.length}>
                      {group.show(row)}
                    </th>
                  </tr>
                ) : null}
                <tr class={picked?.(row) ? "picked" : undefined}>
                  {group !== undefined && spans && startsGroup(shown, index, group.keyOf) ? (
                    <th scope="rowgroup" class="group-cell" rowSpan={lengthOfGroup(shown, index, group.keyOf)}>
                      {group.show(row)}
                    </th>
                  ) : null}
                  {columns.map((column, place) =>
                    place === 0 ? (
                      <th key={column.title} scope="row" class={column.numeric ? "number" : undefined}>
                        {column.show(row)}
                      </th>
                    ) : (
                      <td key={column.title} class={column.numeric ? "number" : undefined}>
                        {column.show(row)}
                      </td>
                    ),
                  )}
                </tr>
              </Fragment>
            ))}
          </tbody>
        </table>
      </div>
      <TableFoot
        caption={caption}
        hidden={rows.length - shown.length}
        step={most}
        onMore={() => setMore(more + most)}
        onSave={file === undefined || rows.length === 0 ? null : save}
      />
    </div>
  );
}

interface TableFootProps {
  readonly caption: string;
  /** Rows not shown yet, and how many come with a press. */
  readonly hidden: number;
  readonly step: number;
  readonly onMore: () => void;
  readonly onSave: (() => void) | null;
}

function TableFoot({ caption, hidden, step, onMore, onSave }: TableFootProps) {
  if (hidden === 0 && onSave === null) return null;
  return (
    <p class="table-foot">
      {hidden === 0 ? null : (
        <button type="button" class="plain" onClick={onMore}>
          Show {formatExact(Math.min(step, hidden))} more of {formatExact(hidden)}
          <span class="unseen"> rows, {caption}</span>
        </button>
      )}
      {onSave === null ? null : (
        <button type="button" class="plain" onClick={onSave}>
          Save as CSV<span class="unseen"> {caption}</span>
        </button>
      )}
    </p>
  );
}

/** Rows from here to the end of the group. */
function lengthOfGroup<T>(rows: readonly T[], index: number, keyOf: (row: T) => string): number {
  const next = rows.findIndex((_, at) => at > index && startsGroup(rows, at, keyOf));
  return (next < 0 ? rows.length : next) - index;
}

const headingOf = ({ title, unit }: { readonly title: string; readonly unit?: string }): string =>
  unit === undefined ? title : `${title} (${unit})`;

function startsGroup<T>(rows: readonly T[], index: number, keyOf: (row: T) => string): boolean {
  const [row, before] = [rows[index], rows[index - 1]];
  return row !== undefined && (before === undefined || keyOf(before) !== keyOf(row));
}

/** Whether the area holds more than it shows; only then does it take the keyboard focus. */
function useScrolls(area: { readonly current: HTMLDivElement | null }): boolean {
  const [scrolls, setScrolls] = useState(false);
  useEffect(() => {
    const element = area.current;
    if (element === null) return;
    const look = () => setScrolls(element.scrollWidth > element.clientWidth + 1);
    look();
    const watcher = new ResizeObserver(look);
    watcher.observe(element);
    if (element.firstElementChild !== null) watcher.observe(element.firstElementChild);
    return () => watcher.disconnect();
  }, [area]);
  return scrolls;
}
