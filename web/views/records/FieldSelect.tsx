import {
  type ColumnTarget,
  type FieldDescriptor,
  type TableName,
  tableDescriptors,
  tableNames,
} from "../../../analysis/index.ts";

interface FieldSelectProps {
  readonly label: string;
  readonly value: ColumnTarget | null;
  /** Tables that the sheet gives already: offered first. */
  readonly tables: readonly TableName[];
  readonly disabled: boolean;
  readonly onPick: (target: ColumnTarget | null) => void;
}

const notRead = "";

/** The field that a column is read into, out of all tables; or none, and its cells stay as written. */
export function FieldSelect({ label, value, tables, disabled, onPick }: FieldSelectProps) {
  const pick = (chosen: string) => {
    if (chosen === notRead) return onPick(null);
    const [name, field = ""] = chosen.split(".");
    const table = tableNames.find((known) => known === name);
    if (table !== undefined)
      onPick({ table, field, unit: fieldsOf(table).find((each) => each.name === field)?.unit ?? null });
  };
  const ordered = [...tables, ...tableNames.filter((table) => !tables.includes(table))];
  return (
    <select
      class="field-select"
      aria-label={label}
      disabled={disabled}
      value={value === null ? notRead : `${value.table}.${value.field}`}
      onChange={(event) => pick(event.currentTarget.value)}
    >
      <option value={notRead}>kept as written, not read</option>
      {ordered.map((table) => (
        <optgroup key={table} label={tableDescriptors[table].title}>
          {fieldsOf(table).map((field) => (
            <option key={field.name} value={`${table}.${field.name}`}>
              {field.title}
              {value?.table === table && value.field === field.name
                ? ` (${tableDescriptors[table].title.toLowerCase()})`
                : ""}
            </option>
          ))}
        </optgroup>
      ))}
    </select>
  );
}

const fieldsOf = (table: TableName): readonly FieldDescriptor[] => tableDescriptors[table].fields;
