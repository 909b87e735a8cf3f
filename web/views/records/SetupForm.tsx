import { useEffect, useState } from "preact/hooks";
import {
  countOf,
  type DropPreview,
  type FieldDescriptor,
  type TableName,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { typedValue } from "../../state/typedValue.ts";
import { FieldInput } from "../forms/FieldInput.tsx";
import { DataTable } from "../parts/DataTable.tsx";

type SetupRow = DropPreview["setup"][number];

interface SetupFormProps {
  readonly kind: "tools" | "items" | "modes";
  readonly setup: DropPreview["setup"];
  readonly disabled: boolean;
  readonly onSetup: (setup: DropPreview["setup"]) => void;
}

const tables: Readonly<Record<SetupFormProps["kind"], TableName>> = {
  tools: "tools",
  items: "tool_items",
  modes: "modes",
};
/** What a row is known by, and what about it was assumed and can be wrong. */
const asked: Readonly<
  Record<SetupFormProps["kind"], { readonly named: readonly string[]; readonly assumed: readonly string[] }>
> = {
  tools: { named: ["serial"], assumed: ["tool_type", "size_in"] },
  items: { named: ["tool_type", "item"], assumed: ["kind", "position"] },
  modes: { named: ["item", "mode"], assumed: ["announces", "threshold", "restored_by", "leads_to"] },
};
const atFirst = 6;

/** Tools, items or modes that follow from the sheets, with what was assumed of each and why; all of it can be changed. */
export function SetupForm({ kind, setup, disabled, onSetup }: SetupFormProps) {
  const [edits, setEdits] = useState<ReadonlyMap<SetupRow, Readonly<Record<string, unknown>>>>(new Map());
  const [all, setAll] = useState(false);
  useEffect(() => setEdits(new Map()), [setup]);
  const rows = setup.filter(({ table }) => table === tables[kind]);
  const fields = asked[kind].assumed.flatMap((name) => fieldOf(tables[kind], name) ?? []);
  const typed = (row: SetupRow, { name }: FieldDescriptor): unknown => {
    const edit = edits.get(row);
    return edit !== undefined && Object.hasOwn(edit, name) ? edit[name] : row.values[name];
  };
  const wrong = (row: SetupRow, field: FieldDescriptor): string | null => {
    const read = typedValue(field, typed(row, field));
    return "wrong" in read ? read.wrong : null;
  };
  const anyWrong = [...edits.keys()].some((row) => fields.some((field) => wrong(row, field) !== null));
  const give = () =>
    onSetup(
      setup.map((row) => {
        const edit = edits.get(row);
        if (edit === undefined) return row;
        const read = fields.map((field) => {
          const value = typedValue(field, typed(row, field));
          return [field.name, "value" in value ? value.value : row.values[field.name]] as const;
        });
        return { ...row, values: { ...row.values, ...Object.fromEntries(read) }, why: "Changed by hand in the drop." };
      }),
    );
  const others = setup.length - rows.length;
  return (
    <div class="editable">
      <DataTable
        caption={`${tableDescriptors[tables[kind]].title} that follow from the sheets`}
        hideCaption
        fill
        rows={all ? rows : rows.slice(0, atFirst)}
        keyOf={(row) => JSON.stringify(asked[kind].named.map((name) => row.values[name]))}
        picked={(row) => edits.has(row)}
        columns={[
          {
            title: fieldOf(tables[kind], asked[kind].named.at(-1) ?? "")?.title ?? "",
            show: (row) => asked[kind].named.map((name) => String(row.values[name] ?? "")).join(": "),
          },
          ...fields.map((field) => ({
            title: field.title,
            ...(field.unit === undefined ? {} : { unit: field.unit }),
            show: (row: SetupRow) => (
              <FieldInput
                field={field}
                value={typed(row, field)}
                label={`${field.title} of ${asked[kind].named.map((name) => String(row.values[name] ?? "")).join(" ")}`}
                disabled={disabled}
                invalid={wrong(row, field) !== null}
                onValue={(value) => setEdits(new Map(edits).set(row, { ...edits.get(row), [field.name]: value }))}
              />
            ),
          })),
          { title: "Why", show: (row) => <span class="small">{row.why}</span> },
        ]}
      />
      {rows.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${rows.length}`}
        </button>
      ) : null}
      {edits.size === 0 ? null : (
        <p class="after-list">
          <button type="button" disabled={disabled || anyWrong} onClick={give}>
            Use these rows
          </button>{" "}
          <span class="small muted">
            {anyWrong
              ? "A cell that is marked cannot be read yet."
              : others === 0
                ? ""
                : `This also confirms the ${countOf(others, "other row")} that follow from the sheets, as shown.`}
          </span>
        </p>
      )}
    </div>
  );
}

const fieldOf = (table: TableName, name: string): FieldDescriptor | undefined =>
  (tableDescriptors[table].fields as readonly FieldDescriptor[]).find((field) => field.name === name);
