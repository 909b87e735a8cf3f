import { type ComponentChildren, Fragment } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
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
  group,
}: DataTableProps<T>) {
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
            {rows.map((row, index) => (
              <Fragment key={keyOf(row)}>
                {group !== undefined && !spans && startsGroup(rows, index, group.keyOf) ? (
                  <tr class="group">
                    <th scope="rowgroup" colSpan={columns.length}>
                      {group.show(row)}
                    </th>
                  </tr>
                ) : null}
                <tr class={picked?.(row) ? "picked" : undefined}>
                  {group !== undefined && spans && startsGroup(rows, index, group.keyOf) ? (
                    <th scope="rowgroup" class="group-cell" rowSpan={lengthOfGroup(rows, index, group.keyOf)}>
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
      {file === undefined || rows.length === 0 ? null : (
        <p class="table-foot">
          <button type="button" class="plain" onClick={save}>
            Save as CSV<span class="unseen"> {caption}</span>
          </button>
        </p>
      )}
    </div>
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
