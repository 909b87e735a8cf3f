import { type FieldDescriptor, formatNumber } from "../../../analysis/index.ts";
import { sameCell } from "../../state/changedRow.ts";
import { type FormTable, fieldsOf } from "../../state/formTables.ts";
import { typedValue } from "../../state/typedValue.ts";
import { FieldInput } from "./FieldInput.tsx";

interface RowFieldsProps {
  readonly table: FormTable;
  readonly values: Readonly<Record<string, unknown>>;
  /** The fields shown, in this order; all of the table where left out. */
  readonly show?: readonly string[];
  readonly leaveOut?: readonly string[];
  /** Values on offer, by field. */
  readonly choices?: Readonly<Record<string, readonly string[]>>;
  /** Why a value stands there already, by field. */
  readonly because?: Readonly<Record<string, string>>;
  /** Fields that name the row: another name would be another row. */
  readonly fixed?: readonly string[];
  /** Values as they are stored, where the row is: what differs is marked. */
  readonly stored?: Readonly<Record<string, unknown>>;
  readonly onValue: (field: string, value: unknown) => void;
}

/** Fields of one row, each with its unit, where its value comes from, and what is wrong with it. */
export function RowFields({ table, show, leaveOut = [], ...rest }: RowFieldsProps) {
  const all = fieldsOf(table);
  const chosen = show === undefined ? all : show.flatMap((name) => all.find((field) => field.name === name) ?? []);
  return (
    <div class="row-fields">
      {chosen
        .filter(({ name }) => !leaveOut.includes(name))
        .map((field) => (
          <Field key={field.name} field={field} {...rest} />
        ))}
    </div>
  );
}

type FieldProps = Omit<RowFieldsProps, "table" | "show" | "leaveOut"> & { readonly field: FieldDescriptor };

function Field({ field, values, choices = {}, because = {}, fixed = [], stored, onValue }: FieldProps) {
  const { name, title, unit, required } = field;
  const value = values[name];
  const read = typedValue(field, value);
  const empty = value === null || value === undefined || value === "";
  const wrong = "wrong" in read && !empty ? read.wrong : null;
  const label = unit === undefined ? title : `${title}, ${unit}`;
  const changed = stored !== undefined && !sameCell(stored[name], value);
  const hint =
    wrong ??
    ("turned" in read && typeof read.value === "number"
      ? `is ${formatNumber(read.value)} ${unit}`
      : changed
        ? "changed"
        : empty
          ? null
          : (because[name] ?? null));
  return (
    <div class="field" data-changed={changed}>
      <span aria-hidden="true">
        {label}
        {required && empty ? " (needed)" : ""}
      </span>
      <FieldInput
        field={field}
        value={value}
        label={label}
        choices={choices[name] ?? []}
        disabled={fixed.includes(name)}
        invalid={wrong !== null}
        onValue={(typed) => onValue(name, typed)}
      />
      {hint === null ? null : <span class={wrong === null ? "because" : "wrong"}>{hint}</span>}
    </div>
  );
}
