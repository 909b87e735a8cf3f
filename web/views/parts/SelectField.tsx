interface SelectFieldProps {
  readonly label: string;
  readonly value: string | null;
  readonly options: readonly string[];
  /** Words for "no narrowing"; left out where one of the options must hold. */
  readonly all?: string;
  readonly say?: (option: string) => string;
  readonly onPick: (option: string | null) => void;
}

/** A labelled native list. A value that is not on offer is still shown, so nothing changes behind the reader's back. */
export function SelectField({ label, value, options, all, say = (option) => option, onPick }: SelectFieldProps) {
  const shown = value === null || options.includes(value) ? options : [value, ...options];
  return (
    <label class="field">
      {label}
      <select
        value={value ?? ""}
        onChange={(event) => onPick(event.currentTarget.value === "" ? null : event.currentTarget.value)}
      >
        {all === undefined ? null : <option value="">{all}</option>}
        {shown.map((option) => (
          <option key={option} value={option}>
            {say(option)}
          </option>
        ))}
      </select>
    </label>
  );
}
