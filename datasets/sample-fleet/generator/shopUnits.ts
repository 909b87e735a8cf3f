/** The shop writes whole numbers in its own units; the records hold what the mapping makes of them, to the last bit. */
import { convertUnit } from "../../../analysis/records/units.ts";

const converter = (from: string, to: string) => {
  const known = new Map<number, number>();
  return (value: number): number => {
    let converted = known.get(value);
    if (converted === undefined) {
      converted = convertUnit(value, from, to);
      known.set(value, converted);
    }
    return converted;
  };
};

export const footPounds = converter("ft-lbf", "N·m");
export const fahrenheit = converter("°F", "°C");
export const feet = converter("ft", "m");
export const psi = converter("psi", "MPa");
export const inches = converter("in", "mm");
export const squareInches = converter("in²", "mm²");
export const thousandths = converter("thou", "mm");
