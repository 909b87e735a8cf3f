import {
  formatDate,
  type ScopeChoices,
  type StatementDefinition,
  type StatementsReply,
} from "../../../analysis/index.ts";
import type { StatementSettings } from "../../state/statementSettings.ts";
import { SelectField } from "../parts/SelectField.tsx";
import { StatementActions } from "./StatementActions.tsx";

interface StatementFormProps {
  readonly settings: StatementSettings;
  readonly choices: ScopeChoices;
  readonly book: StatementsReply | null;
  readonly missing: string | null;
  /** The preview was made with other settings. */
  readonly changed: boolean;
  readonly busy: boolean;
  readonly onChange: (part: Partial<StatementSettings>) => void;
  readonly onMake: () => void;
}

const kinds = ["periodic", "incident", "before and after"] as const;
const kindWords = {
  periodic: "A period",
  incident: "One incident",
  "before and after": "Before and after a change",
} as const;
const asked = ["mean time between failures", "failures a month"] as const;

/** What the statement is to be: its kind, its reader, and what the customer asks for. The scope bar says about whom. */
export function StatementForm(props: StatementFormProps) {
  const { settings, missing, changed, busy, onChange, onMake } = props;
  return (
    <form
      class="card statement-form"
      aria-label="Statement"
      onSubmit={(event) => {
        event.preventDefault();
        if (missing === null) onMake();
      }}
    >
      <div class="statement-fields">
        <SelectField
          label="Kind of statement"
          value={settings.kind}
          options={kinds}
          say={(kind) => kindWords[kinds.find((one) => one === kind) ?? "periodic"]}
          onPick={(kind) => onChange({ kind: kinds.find((one) => one === kind) ?? "periodic" })}
        />
        <SelectField
          label="Reader"
          value={settings.audience}
          options={["engineer", "manager"]}
          say={(reader) => (reader === "manager" ? "Manager: without the tables by tool" : "Engineer: everything")}
          onPick={(reader) => onChange({ audience: reader === "manager" ? "manager" : "engineer" })}
        />
        <SelectField
          label="Units"
          value={settings.units}
          options={["metric", "oilfield"]}
          say={(units) => (units === "metric" ? "°C, m, MPa, N·m" : "°F, ft, psi, ft-lbf")}
          onPick={(units) => onChange({ units: units === "oilfield" ? "oilfield" : "metric" })}
        />
        <SelectField
          label="Numbers"
          value={settings.decimalMark}
          options={["point", "comma"]}
          say={(mark) => (mark === "point" ? "1,234.5" : "1\u00A0234,5")}
          onPick={(mark) => onChange({ decimalMark: mark === "comma" ? "comma" : "point" })}
        />
        <label class="field">
          Customer's run length, h
          <input
            type="number"
            min="1"
            step="any"
            placeholder="median run"
            value={settings.runHours ?? ""}
            onChange={(event) => onChange({ runHours: Number(event.currentTarget.value) || null })}
          />
        </label>
        <SelectField
          label="Customer counts a failure from"
          all="As the shop does"
          value={settings.customerSeverity === null ? null : String(settings.customerSeverity)}
          options={["1", "2", "3", "4", "5"]}
          say={(severity) => `severity ${severity}, every mode`}
          onPick={(severity) => onChange({ customerSeverity: severity === null ? null : Number(severity) })}
        />
        <SelectField
          label="Customer counts"
          all="The same hours"
          value={settings.customerHours}
          options={["circulating", "drilling", "below rotary"]}
          say={(kind) => `${kind} hours`}
          onPick={(kind) => onChange({ customerHours: hoursKindOf(kind) })}
        />
      </div>
      <Special {...props} />
      <details>
        <summary>Only some tools or wells, figures asked for, actions, names</summary>
        <More {...props} />
      </details>
      <div class="statement-make">
        <button type="submit" class="main" disabled={busy || missing !== null}>
          {changed ? "Make the preview with these settings" : "Make the preview again"}
        </button>
        {missing === null ? (
          changed ? (
            <p role="status">The preview below was made with other settings.</p>
          ) : null
        ) : (
          <p role="status">{missing}</p>
        )}
      </div>
    </form>
  );
}

const hoursKindOf = (kind: string | null): StatementDefinition["hoursKind"] =>
  kind === "circulating" || kind === "drilling" || kind === "below rotary" ? kind : null;

/** What only one kind of statement takes. */
function Special({ settings, book, onChange }: StatementFormProps) {
  if (settings.kind === "incident") {
    const incidents = book?.incidents ?? [];
    const words = new Map(
      incidents.map(({ run, serial, on, customer }) => [
        run,
        [run, serial, customer, formatDate(on)].filter((part) => part !== null).join(", "),
      ]),
    );
    return (
      <div class="statement-fields">
        <SelectField
          label="Run that went wrong"
          all="Choose a run"
          value={settings.incidentRun}
          options={incidents.map(({ run }) => run)}
          say={(run) => words.get(run) ?? run}
          onPick={(incidentRun) => onChange({ incidentRun })}
        />
      </div>
    );
  }
  if (settings.kind !== "before and after") return null;
  const { change } = settings;
  const set = (part: Partial<StatementSettings["change"]>) => onChange({ change: { ...change, ...part } });
  return (
    <div class="statement-fields">
      <label class="field">
        What was changed
        <input value={change.what} maxLength={300} onInput={(event) => set({ what: event.currentTarget.value })} />
      </label>
      <label class="field">
        On
        <input type="date" value={change.on} onChange={(event) => set({ on: event.currentTarget.value })} />
      </label>
      <SelectField
        label="It applies to"
        value={change.appliesTo}
        options={["builds", "runs"]}
        say={(what) => (what === "runs" ? "runs from that day on" : "items restored from that day on")}
        onPick={(what) => set({ appliesTo: what === "runs" ? "runs" : "builds" })}
      />
      <label class="field">
        First day counted as after
        <input
          type="date"
          value={change.countedFrom ?? ""}
          min={change.on}
          onChange={(event) => set({ countedFrom: event.currentTarget.value || null })}
        />
      </label>
    </div>
  );
}

function More({ settings, choices, book, onChange }: StatementFormProps) {
  const items = [...new Set(choices.toolTypes.flatMap((type) => type.items.map(({ item }) => item)))].sort();
  return (
    <>
      <div class="statement-fields">
        <ManyField
          label="Only these tools (none chosen: all)"
          chosen={settings.serials}
          options={choices.serials.map(({ serial }) => serial)}
          onPick={(serials) => onChange({ serials })}
        />
        <ManyField
          label="Only these wells (none chosen: all)"
          chosen={settings.wells}
          options={book?.wells ?? []}
          onPick={(wells) => onChange({ wells })}
        />
      </div>
      <fieldset>
        <legend>Figures the customer asks for</legend>
        {asked.map((figure) => (
          <label key={figure} class="choice">
            <input
              type="checkbox"
              checked={settings.asked.includes(figure)}
              onChange={(event) =>
                onChange({
                  asked: event.currentTarget.checked
                    ? [...settings.asked, figure]
                    : settings.asked.filter((one) => one !== figure),
                })
              }
            />
            {figure}
          </label>
        ))}
        <p class="small">Given only where the records carry them; otherwise the statement says what they would hide.</p>
      </fieldset>
      <StatementActions actions={settings.actions} items={items} onChange={(actions) => onChange({ actions })} />
      <label class="choice">
        <input
          type="checkbox"
          checked={settings.masked}
          onChange={(event) => onChange({ masked: event.currentTarget.checked })}
        />
        Call tools, wells, crews, lots and records by aliases, the same in every statement
      </label>
    </>
  );
}

interface ManyFieldProps {
  readonly label: string;
  readonly chosen: readonly string[];
  readonly options: readonly string[];
  readonly onPick: (chosen: readonly string[]) => void;
}

const ManyField = ({ label, chosen, options, onPick }: ManyFieldProps) => (
  <label class="field">
    {label}
    <select
      multiple
      size={5}
      onChange={(event) => onPick([...event.currentTarget.selectedOptions].map(({ value }) => value))}
    >
      {options.map((option) => (
        <option key={option} value={option} selected={chosen.includes(option)}>
          {option}
        </option>
      ))}
    </select>
  </label>
);
