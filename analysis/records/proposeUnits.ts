import type { Assignment } from "./assignHeaders.ts";
import { type FieldDescriptor, tableDescriptors } from "./descriptor.ts";
import { parseNumber } from "./parseNumber.ts";

/** A unit that neither header nor cells say. */
export interface GuessedUnit {
  readonly header: string;
  readonly unit: string;
  readonly why: string;
}

const fieldUnits = new Set(["ft-lbf", "in-lbf", "kft-lbf", "°F", "ft", "psi", "ksi", "thou"]);
const inFieldUnits: Readonly<Record<string, string>> = { N·m: "ft-lbf", "°C": "°F", m: "ft", MPa: "psi", mm: "in" };
/** Above this a column of temperatures is in °F: elastomers of downhole tools end at about 177 °C (common practice, no source). */
const hottestCelsius = 180;

/**
 * The unit of each column: what the header says, else nothing where the cells say it, else a guess that a person
 * confirms. Guessed are only the units shops write in two systems; hours, inches of nominal size and Shore A are not
 * in doubt. The guess follows the sheet's other columns: feet, °F or psi anywhere speak for foot-pounds.
 *
 * @returns units by header (absent: the field's own unit).
 */
export function proposeUnits(
  assignments: readonly Assignment[],
  decimal: "." | ",",
): { readonly units: ReadonlyMap<string, string>; readonly guessed: readonly GuessedUnit[] } {
  const units = new Map<string, string>();
  const guessed: GuessedUnit[] = [];
  const said = assignments.flatMap(({ column }) => (column.unit === null ? [] : [column.unit]));
  const hot = assignments.some((each) => each.field === "max_temperature_C" && largest(each, decimal) > hottestCelsius);
  const customary = said.some((unit) => fieldUnits.has(unit)) || hot;
  for (const { column, table, field } of assignments) {
    const descriptor = (tableDescriptors[table].fields as readonly FieldDescriptor[]).find(
      (each) => each.name === field,
    );
    const own = descriptor?.unit;
    if (own === undefined) continue;
    if (column.unit !== null) {
      if (column.unit !== own) units.set(column.header, column.unit);
      continue;
    }
    const alternative = inFieldUnits[own];
    if (alternative === undefined || column.ownUnits > 0.8) continue;
    const unit = customary ? alternative : own;
    const reason = customary
      ? "the sheet's other columns or values are in US units"
      : "nothing in the sheet speaks for US units";
    guessed.push({ header: column.header, unit, why: `No unit is said; taken as ${unit}, because ${reason}.` });
    if (unit !== own) units.set(column.header, unit);
  }
  return { units, guessed };
}

const largest = ({ column }: Assignment, decimal: "." | ","): number =>
  column.unit === null ? Math.max(0, ...column.cells.map((cell) => parseNumber(cell, decimal)?.value ?? 0)) : 0;
