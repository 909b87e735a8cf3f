import type { StatementAction } from "../../../analysis/index.ts";
import { SelectField } from "../parts/SelectField.tsx";

interface StatementActionsProps {
  readonly actions: readonly StatementAction[];
  /** Items that an action can be about. */
  readonly items: readonly string[];
  readonly onChange: (actions: readonly StatementAction[]) => void;
}

/** What was done, or is to be done, as the shop writes it. */
export function StatementActions({ actions, items, onChange }: StatementActionsProps) {
  const setAction = (index: number, part: Partial<StatementAction>) =>
    onChange(actions.map((one, at) => (at === index ? { ...one, ...part } : one)));
  return (
    <fieldset>
      <legend>Corrective actions</legend>
      {actions.map((action, index) => (
        <div class="statement-fields" key={index}>
          <label class="field">
            Action {index + 1}
            <input
              value={action.what}
              maxLength={300}
              onInput={(event) => setAction(index, { what: event.currentTarget.value })}
            />
          </label>
          <SelectField
            label={`Action ${index + 1} is about`}
            all="The tool as a whole"
            value={action.item}
            options={items}
            onPick={(item) => setAction(index, { item, mode: null })}
          />
          <SelectField
            label={`State of action ${index + 1}`}
            value={action.state}
            options={["open", "done"]}
            onPick={(state) => setAction(index, { state: state === "done" ? "done" : "open" })}
          />
          <label class="field">
            {action.state === "done" ? "Done on" : "Due on"} (action {index + 1})
            <input
              type="date"
              value={action.on ?? ""}
              onChange={(event) => setAction(index, { on: event.currentTarget.value || null })}
            />
          </label>
          <button type="button" class="plain" onClick={() => onChange(actions.filter((_, at) => at !== index))}>
            Remove action {index + 1}
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() => onChange([...actions, { what: "", item: null, mode: null, state: "open", on: null }])}
      >
        Add an action
      </button>
    </fieldset>
  );
}
