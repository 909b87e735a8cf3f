import type { FieldDescriptor } from "../../../analysis/index.ts";

interface FieldInputProps {
  readonly field: FieldDescriptor;
  /** As typed, or as it came from the records: null is "not written down". */
  readonly value: unknown;
  /** Known values on offer; any other can still be typed. */
  readonly choices?: readonly string[];
  readonly label: string;
  readonly disabled?: boolean;
  readonly invalid?: boolean;
  readonly describedBy?: string;
  readonly onValue: (value: unknown) => void;
}

/** One field of a table as the control that its type asks for. Empty is null: not written down, never zero. */
export function FieldInput({
  field,
  value,
  choices = [],
  label,
  disabled = false,
  invalid = false,
  describedBy,
  onValue,
}: FieldInputProps) {
  const common = {
    "aria-label": label,
    disabled,
    "aria-invalid": invalid,
    ...(describedBy === undefined ? {} : { "aria-describedby": describedBy }),
  };
  const list = `${field.name}-known`;
  const options = field.type === "boolean" ? yesOrNo : (field.enum ?? null);
  if (options !== null)
    return (
      <select
        {...common}
        value={writtenOf(value)}
        onChange={(event) => onValue(chosen(field, event.currentTarget.value))}
      >
        <option value="">{field.required ? "choose…" : "not written down"}</option>
        {options.map((option) => (
          <option key={option}>{option}</option>
        ))}
      </select>
    );
  return (
    <>
      <input
        {...common}
        type={field.type === "date" ? "date" : "text"}
        inputMode={field.type === "integer" ? "numeric" : field.type === "number" ? "decimal" : undefined}
        autocomplete="off"
        value={writtenOf(value)}
        list={choices.length > 0 ? list : undefined}
        onInput={(event) => onValue(event.currentTarget.value === "" ? null : event.currentTarget.value)}
      />
      {choices.length > 0 ? (
        <datalist id={list}>
          {choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      ) : null}
    </>
  );
}

const yesOrNo = ["yes", "no"] as const;

const chosen = ({ type }: FieldDescriptor, text: string): unknown =>
  text === "" ? null : type === "boolean" ? text === "yes" : text;

/** A value as it stands in a control. */
export function writtenOf(value: unknown): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.join("; ");
  // A value turned from the shop's unit: six digits are shown, all are kept until somebody types another.
  if (typeof value === "number") return String(Number(value.toPrecision(6)));
  return String(value);
}
