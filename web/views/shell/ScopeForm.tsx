import { formatSize, type Scope, type ScopeChoices, sayLevel, sayMissingHours } from "../../../analysis/index.ts";
import { missingHoursChoices, type Settings } from "../../state/place.ts";
import { itemOptions, modeOptions, sizeOptions } from "../../state/scopeOptions.ts";
import { SelectField } from "../parts/SelectField.tsx";

interface ScopeFormProps {
  readonly choices: ScopeChoices;
  readonly scope: Scope;
  readonly settings: Settings;
  readonly onScope: (part: Partial<Scope>) => void;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly onReset: () => void;
}

/** The scope as native controls; each change holds at once and goes into the address. */
export function ScopeForm({ choices, scope, settings, onScope, onSettings, onReset }: ScopeFormProps) {
  return (
    <div class="scope-form">
      <SelectField
        label="Tool type"
        all="All types"
        value={scope.toolType}
        options={choices.toolTypes.map(({ toolType }) => toolType)}
        onPick={(toolType) => onScope({ toolType })}
      />
      <SelectField
        label="Size"
        all="All sizes"
        value={scope.sizeIn === null ? null : String(scope.sizeIn)}
        options={sizeOptions(choices, scope.toolType).map(String)}
        say={(size) => formatSize(Number(size))}
        onPick={(size) => onScope({ sizeIn: size === null ? null : Number(size) })}
      />
      <SelectField
        label="Item"
        all="All items"
        value={scope.item}
        options={itemOptions(choices, scope.toolType).map(({ item }) => item)}
        onPick={(item) => onScope({ item })}
      />
      <SelectField
        label="Failure mode"
        all="All modes"
        value={scope.mode}
        options={modeOptions(choices, scope)}
        onPick={(mode) => onScope({ mode })}
      />
      <SelectField
        label="Customer"
        all="All customers"
        value={scope.customer}
        options={choices.customers}
        onPick={(customer) => onScope({ customer })}
      />
      <SelectField
        label="Serial"
        all="All serials"
        value={scope.serial}
        options={choices.serials.map(({ serial }) => serial)}
        onPick={(serial) => onScope({ serial })}
      />
      <DateField label="From" value={scope.from} choices={choices} onPick={(from) => onScope({ from })} />
      <DateField label="To" value={scope.to} choices={choices} onPick={(to) => onScope({ to })} />
      <SelectField
        label="Bounds"
        value={String(settings.confidence)}
        options={["0.8", "0.9", "0.95"]}
        say={(level) =>
          settings.sides === "lower"
            ? sayLevel(Number(level), "below", "lower")
            : `${sayLevel(Number(level), "below")}, ${sayLevel(Number(level), "above")}`
        }
        onPick={(level) => onSettings({ confidence: Number(level ?? settings.confidence) })}
      />
      <SelectField
        label="Hours not written down"
        value={settings.missingHours}
        options={missingHoursChoices}
        say={(choice) => sayMissingHours(missingHoursChoices.find((known) => known === choice) ?? "shop rate")}
        onPick={(choice) =>
          onSettings({ missingHours: missingHoursChoices.find((known) => known === choice) ?? settings.missingHours })
        }
      />
      <div class="scope-actions">
        <button type="button" onClick={onReset}>
          Back to the whole fleet
        </button>
      </div>
    </div>
  );
}

interface DateFieldProps {
  readonly label: string;
  readonly value: string | null;
  readonly choices: ScopeChoices;
  readonly onPick: (date: string | null) => void;
}

const DateField = ({ label, value, choices, onPick }: DateFieldProps) => (
  <label class="field">
    {label}
    <input
      type="date"
      value={value ?? ""}
      min={choices.firstDate ?? undefined}
      max={choices.lastDate ?? undefined}
      onChange={(event) => onPick(event.currentTarget.value || null)}
    />
  </label>
);
