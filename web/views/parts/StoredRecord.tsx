import type { ComponentChildren } from "preact";
import {
  type FieldDescriptor,
  formatDate,
  formatNumber,
  type StoredRow,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { SerialLink } from "./Link.tsx";

interface StoredRecordProps {
  readonly row: StoredRow;
  /** What stands under it, such as what became of it. */
  readonly children?: ComponentChildren;
}

/** One stored row as it is counted, corrections beside originals, next to the line of the sheet it came from. */
export function StoredRecord({ row, children }: StoredRecordProps) {
  const { title, fields, primaryKey } = tableDescriptors[row.table];
  const name = primaryKey
    .map((field) => row.values[field])
    .filter(Boolean)
    .join(", ");
  const standing = (row.corrections ?? []).filter(({ state }) => state === "applied");
  const excluded = standing.find(({ answer, column }) => column === null && answer.verdict === "exclude")?.answer;
  const correctedOf = (field: string) =>
    standing.find(({ answer, column }) => column === field && answer.verdict === "correct")?.answer;
  const written = Object.entries(row.asWritten).filter(([, cell]) => cell.trim() !== "");
  return (
    <article class="record">
      <div class="record-head">
        <h3>
          {title}: {name}
        </h3>
        <span class="muted small">
          {row.origin.file}
          {row.origin.sheet === null ? "" : `, sheet ${row.origin.sheet}`}, line {row.origin.line}
        </span>
      </div>
      <div class="record-body">
        <div>
          <p class="muted small">
            {excluded === undefined
              ? "As it is counted"
              : `Left out of every study: ${excluded.why} (${excluded.who}, ${formatDate(excluded.when.slice(0, 10))})`}
          </p>
          <dl class="cells">
            {(fields as readonly FieldDescriptor[])
              .map((field) => ({ field, corrected: correctedOf(field.name), value: row.values[field.name] ?? null }))
              .filter(({ value, corrected }) => value !== null || corrected !== undefined)
              .map(({ field, value, corrected }) => (
                <div key={field.name}>
                  <dt>{field.title}</dt>
                  <dd>
                    {corrected !== undefined ? (
                      <>
                        {sayValue(field, corrected.becomes)}{" "}
                        <span class="muted">
                          corrected by {corrected.who}; the sheet says <span class="was">{sayValue(field, value)}</span>
                        </span>
                      </>
                    ) : field.name === "serial" ? (
                      <SerialLink serial={String(value)} />
                    ) : (
                      sayValue(field, value)
                    )}
                  </dd>
                </div>
              ))}
          </dl>
        </div>
        <div>
          <p class="muted small">As it was written</p>
          {written.length === 0 ? (
            <p class="small">Not on any sheet: it follows from a statement of the shop.</p>
          ) : (
            <dl class="cells written">
              {written.map(([header, cell]) => (
                <div key={header}>
                  <dt>{header}</dt>
                  <dd>{cell}</dd>
                </div>
              ))}
            </dl>
          )}
        </div>
      </div>
      {children}
    </article>
  );
}

/** A canonical value in words, with its unit. */
export function sayValue(field: FieldDescriptor, value: unknown): string {
  if (value === null || value === undefined) return "not written down";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.length === 0 ? "none" : value.join(", ");
  if (field.type === "date") return formatDate(String(value));
  if (typeof value === "number") {
    const number = field.type === "integer" ? String(value) : formatNumber(value);
    return field.unit === undefined ? number : `${number} ${field.unit}`;
  }
  return String(value);
}
