import { AnalysisError } from "../errors.ts";

interface Unit {
  readonly dimension: string;
  /** value in the dimension's base unit = offset + factor * value in this unit */
  readonly factor: number;
  readonly offset?: number;
  readonly spellings: readonly string[];
}

/** Pound-force in newtons: 0.45359237 kg (exact) * 9.80665 m/s2 (exact). NIST SP 811 (2008), Appendix B.8. */
const poundForce = 0.45359237 * 9.80665;
const foot = 0.3048;
const inch = 0.0254;

/**
 * Units by the name used in the descriptor and in mappings. Factors are exact by definition (NIST Special Publication
 * 811, 2008, Appendix B.8: inch, foot, pound, standard gravity, bar; degree Fahrenheit in B.9).
 */
const units: Readonly<Record<string, Unit>> = {
  N·m: {
    dimension: "torque",
    factor: 1,
    spellings: ["nm", "n m", "n*m", "n·m", "newton metre", "newton meter", "newtonmeter"],
  },
  kN·m: { dimension: "torque", factor: 1000, spellings: ["knm", "kn m", "kn*m", "kn·m"] },
  "ft-lbf": {
    dimension: "torque",
    factor: foot * poundForce,
    spellings: [
      "ft lbf",
      "ft lb",
      "ft lbs",
      "ftlb",
      "ftlbs",
      "ftlbf",
      "lb ft",
      "lbf ft",
      "lbs ft",
      "lbft",
      "lbfft",
      "ft*lbf",
      "ft·lbf",
      "lbf·ft",
      "lb·ft",
      "ft·lb",
      "foot pounds",
      "foot pound",
    ],
  },
  "kft-lbf": {
    dimension: "torque",
    factor: 1000 * foot * poundForce,
    spellings: ["kft lbf", "kft lb", "kft lbs", "kftlb", "kftlbs", "klbf ft"],
  },
  "in-lbf": {
    dimension: "torque",
    factor: inch * poundForce,
    spellings: ["in lbf", "in lb", "in lbs", "inlb", "inlbs", "inlbf", "lbf in", "lb in", "inch pounds"],
  },
  kgf·m: { dimension: "torque", factor: 9.80665, spellings: ["kgf m", "kgfm", "kg m", "kgm", "kgf*m", "m kg"] },

  m: { dimension: "length", factor: 1, spellings: ["m", "metre", "metres", "meter", "meters", "mtr", "mmd", "m md"] },
  mm: {
    dimension: "length",
    factor: 0.001,
    spellings: ["mm", "millimetre", "millimeter", "millimetres", "millimeters"],
  },
  cm: { dimension: "length", factor: 0.01, spellings: ["cm"] },
  µm: { dimension: "length", factor: 1e-6, spellings: ["µm", "μm", "um", "micron", "microns"] },
  in: { dimension: "length", factor: inch, spellings: ["in", "inch", "inches", "zoll", "″"] },
  thou: { dimension: "length", factor: inch / 1000, spellings: ["thou", "mil", "mils"] },
  ft: { dimension: "length", factor: foot, spellings: ["ft", "feet", "foot", "ft md"] },

  "mm²": { dimension: "area", factor: 1e-6, spellings: ["mm2", "mm²", "sq mm", "square millimetres"] },
  "cm²": { dimension: "area", factor: 1e-4, spellings: ["cm2", "cm²", "sq cm"] },
  "in²": { dimension: "area", factor: inch * inch, spellings: ["in2", "in²", "sq in", "square inches"] },

  h: { dimension: "time", factor: 1, spellings: ["h", "hr", "hrs", "hour", "hours", "std", "stunden"] },
  min: { dimension: "time", factor: 1 / 60, spellings: ["min", "mins", "minute", "minutes"] },
  d: { dimension: "time", factor: 24, spellings: ["d", "day", "days", "tage"] },

  "°C": {
    dimension: "temperature",
    factor: 1,
    spellings: ["°c", "c", "degc", "deg c", "celsius", "º c", "ºc", "° c", "grad c"],
  },
  "°F": {
    dimension: "temperature",
    factor: 5 / 9,
    offset: -160 / 9,
    spellings: ["°f", "f", "degf", "deg f", "fahrenheit", "ºf", "° f"],
  },
  K: { dimension: "temperature", factor: 1, offset: -273.15, spellings: ["k", "kelvin"] },

  MPa: { dimension: "pressure", factor: 1, spellings: ["mpa"] },
  kPa: { dimension: "pressure", factor: 0.001, spellings: ["kpa"] },
  bar: { dimension: "pressure", factor: 0.1, spellings: ["bar", "bars"] },
  psi: {
    dimension: "pressure",
    factor: poundForce / (inch * inch) / 1e6,
    spellings: ["psi", "psig", "psid", "lbf in2"],
  },
  ksi: { dimension: "pressure", factor: (1000 * poundForce) / (inch * inch) / 1e6, spellings: ["ksi"] },

  "Shore A": {
    dimension: "hardness",
    factor: 1,
    spellings: ["shore a", "sh a", "sha", "shore", "a shore", "durometer a", "duro a"],
  },
  "g rms": { dimension: "vibration", factor: 1, spellings: ["g rms", "grms", "g"] },
};

const bySpelling = new Map<string, string>();
for (const [name, unit] of Object.entries(units)) {
  bySpelling.set(spellingOf(name), name);
  for (const spelling of unit.spellings) bySpelling.set(spellingOf(spelling), name);
}

function spellingOf(text: string): string {
  return text
    .normalize("NFC")
    .toLowerCase()
    .replace(/[-–_./()[\]]+/g, " ")
    .replace(/\s*([·*•⋅])\s*/g, "·")
    .replace(/\s+/g, " ")
    .trim();
}

/**
 * The unit a text stands for, by its name in the descriptor ("ft lbs" is "ft-lbf"), or null where the text names no
 * unit known here. Case and punctuation do not matter.
 */
export function unitOf(text: string): string | null {
  if (text.trim() === '"' || text.trim() === "''") return "in";
  return bySpelling.get(spellingOf(text)) ?? null;
}

/** Whether a value in one unit can be turned into the other. */
export function isConvertible(from: string, to: string): boolean {
  const [a, b] = [unitNamed(from), unitNamed(to)];
  return a !== null && b !== null && a.dimension === b.dimension;
}

/** Units that measure the same as one, itself among them, in the order of the list above; none where it is not known. */
export function unitsLike(unit: string): readonly string[] {
  return Object.keys(units).filter((name) => isConvertible(name, unit));
}

/**
 * Turns a value into another unit of the same dimension by the exact factors above.
 *
 * @param from  Any spelling that `unitOf` knows.
 * Errors       "unknown-unit" where either unit is not known, or the two measure different things.
 * Accuracy     A few units in the last place.
 * Example      `convertUnit(850, "ft-lbf", "N·m")` is 1152.445...
 */
export function convertUnit(value: number, from: string, to: string): number {
  const [source, target] = [unitNamed(from), unitNamed(to)];
  if (source === null || target === null || source.dimension !== target.dimension) {
    throw new AnalysisError("unknown-unit", { from, to });
  }
  if (source === target) return value;
  const base = (source.offset ?? 0) + source.factor * value;
  return (base - (target.offset ?? 0)) / target.factor;
}

function unitNamed(text: string): Unit | null {
  const name = Object.hasOwn(units, text) ? text : unitOf(text);
  return name === null ? null : (units[name] ?? null);
}
