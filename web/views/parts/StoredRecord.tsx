import {
  type FieldDescriptor,
  formatDate,
  formatNumber,
  type StoredRow,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { SerialLink } from "./Link.tsx";

/** One stored row beside the line of the sheet it came from. */
export function StoredRecord({ row }: { readonly row: StoredRow }) {
  const { title, fields, primaryKey } = tableDescriptors[row.table];
  const name = primaryKey
    .map((field) => row.values[field])
    .filter(Boolean)
    .join(", ");
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
          <p class="muted small">As it is counted</p>
          <dl class="cells">
            {(fields as readonly FieldDescriptor[])
              .filter(({ name: field }) => row.values[field] !== null && row.values[field] !== undefined)
              .map((field) => (
                <div key={field.name}>
                  <dt>{field.title}</dt>
                  <dd>
                    {field.name === "serial" ? (
                      <SerialLink serial={String(row.values[field.name])} />
                    ) : (
                      sayValue(field, row.values[field.name])
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
