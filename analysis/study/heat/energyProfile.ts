import { chiSquareQuantile, chiSquareUpperTail } from "../../numerics/index.ts";

/** What the lives of a mode say of its activation energy. Energies in J/mol. */
export interface EnergyProfile {
  readonly energy: number;
  readonly lower: number;
  /** Null: the lives do not bound it under 160 kJ/mol. */
  readonly upper: number | null;
  /** Of "hours count alike whatever the heat" against "hotter hours count for more". */
  readonly pValue: number;
  /** Energies that cut what is believed of it into equal parts, each in the middle of its part; for draws. */
  readonly nodes: readonly number[];
}

/** Energies at which the lives are fitted; the profile between them is smooth. */
const COARSE = 20_000;
const MOST = 160_000;
const FINE = 500;
/** No energy is believed whose log likelihood lies so far under the best one; nor any above it. */
const FAR = 12;
const FEWEST = 4;
const NODES = 5;

/**
 * Profile likelihood of an activation energy from 0 to 160 kJ/mol, by cubic spline through fits at up to nine energies.
 *
 * @param logLikelihood  Greatest one over the law's parameters at an energy, of the ages as they were in hours; null where
 *                       there is none.
 * @param confidence     Two-sided, of the bounds by likelihood ratio.
 * @returns              Null where the likelihood has no maximum at one of the energies.
 * Source                Self & Liang (1987), J. Am. Statist. Assoc. 82, 605-610, case 5: at the edge of what is possible the
 *                       likelihood ratio is 0 in half of the cases, so the p-value is half of that of one degree of freedom.
 */
export function profileEnergy(
  logLikelihood: (energy: number) => number | null,
  confidence: number,
): EnergyProfile | null {
  const values: number[] = [];
  for (let energy = 0; energy <= MOST; energy += COARSE) {
    const value = logLikelihood(energy);
    if (value === null) return null;
    values.push(value);
    if (values.length >= FEWEST && value < Math.max(...values) - FAR) break;
  }
  const spline = naturalSpline(values);
  const most = (values.length - 1) * COARSE;
  const count = most / FINE + 1;
  const profile = Float64Array.from({ length: count }, (_, place) => spline((place * FINE) / COARSE));
  const best = profile.indexOf(Math.max(...profile));
  const top = profile[best]!;
  const within = (place: number): boolean => profile[place]! >= top - chiSquareQuantile(confidence, 1) / 2;
  let [low, high] = [best, best];
  while (low > 0 && within(low - 1)) low--;
  while (high < count - 1 && within(high + 1)) high++;
  const deviance = 2 * (top - profile[0]!);
  return {
    energy: best * FINE,
    lower: low * FINE,
    upper: high * FINE === MOST ? null : high * FINE,
    pValue: best === 0 ? 1 : chiSquareUpperTail(deviance, 1) / 2,
    nodes: middlesOf(profile.map((value) => Math.exp(value - top))),
  };
}

/** Middles of equal parts of a density given on the fine grid. */
function middlesOf(density: Float64Array): number[] {
  const total = density.reduce((sum, one) => sum + one, 0);
  const nodes: number[] = [];
  let passed = 0;
  density.forEach((one, place) => {
    passed += one / total;
    while (nodes.length < NODES && passed >= (nodes.length + 0.5) / NODES) nodes.push(place * FINE);
  });
  return nodes;
}

/** Natural cubic spline through values at 0, 1, 2 ... (Press et al., Numerical Recipes, 3.3). */
function naturalSpline(values: readonly number[]): (at: number) => number {
  const last = values.length - 1;
  const second = new Float64Array(values.length);
  const carried = new Float64Array(values.length);
  for (let i = 1; i < last; i++) {
    const pivot = second[i - 1]! / 2 + 2;
    second[i] = -0.5 / pivot;
    const bend = values[i + 1]! - 2 * values[i]! + values[i - 1]!;
    carried[i] = (3 * bend - carried[i - 1]! / 2) / pivot;
  }
  second[last] = 0;
  for (let i = last - 1; i >= 0; i--) second[i] = second[i]! * second[i + 1]! + carried[i]!;
  return (at) => {
    const place = Math.min(last - 1, Math.floor(at));
    const [b, a] = [at - place, place + 1 - at];
    return (
      a * values[place]! +
      b * values[place + 1]! +
      ((a ** 3 - a) * second[place]! + (b ** 3 - b) * second[place + 1]!) / 6
    );
  };
}
