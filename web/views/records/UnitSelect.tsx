import { unitOf, unitsLike } from "../../../analysis/index.ts";

interface UnitSelectProps {
  readonly label: string;
  readonly unit: string;
  readonly disabled: boolean;
  readonly onPick: (unit: string) => void;
}

/** The units that a column can be in, given the one it is read in. */
export const UnitSelect = ({ label, unit, disabled, onPick }: UnitSelectProps) => (
  <select
    class="unit-select"
    aria-label={label}
    disabled={disabled}
    value={unitOf(unit) ?? ""}
    onChange={(event) => onPick(event.currentTarget.value)}
  >
    {unitsLike(unit).map((each) => (
      <option key={each}>{each}</option>
    ))}
  </select>
);
