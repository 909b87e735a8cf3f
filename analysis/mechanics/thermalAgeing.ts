import { AnalysisError } from "../errors.ts";
import { checkPositive } from "./checkPositive.ts";

/** J / (mol K), as rounded in the source of the worked values. */
const GAS_CONSTANT = 8.314;
const ZERO_CELSIUS = 273.15;

/** J/mol, in the middle of 70 to 100 kJ/mol usual for the set of nitrile rubbers (from memory; measure yours). */
export const USUAL_ACTIVATION_ENERGY = 85_000;

/**
 * How much faster an elastomer ages at a temperature than at a reference:  exp[(E_a / R)(1 / T_ref - 1 / T)], T in kelvin.
 *
 * @param activationEnergy  J/mol.
 * Cautions  For chemical ageing alone: not for abrasion, extrusion or decompression, and not across a glass transition. 15 kJ/mol
 *           more or less nearly doubles or halves it over 50 degC. Compare rubbers on the same property only.
 * Errors    "bad-setting" for an energy that is not above 0 or a temperature at or below absolute zero.
 * Source    Arrhenius form of ISO 11346 and IEC 60216.
 */
export function ageingFactor(
  celsius: number,
  referenceCelsius: number,
  activationEnergy = USUAL_ACTIVATION_ENERGY,
): number {
  checkPositive({ activationEnergy });
  for (const temperature of [celsius, referenceCelsius]) {
    if (!(temperature > -ZERO_CELSIUS && Number.isFinite(temperature)))
      throw new AnalysisError("bad-setting", {
        setting: "temperature",
        value: String(temperature),
        allowed: "above -273.15 degC",
      });
  }
  return Math.exp(
    (activationEnergy / GAS_CONSTANT) * (1 / (referenceCelsius + ZERO_CELSIUS) - 1 / (celsius + ZERO_CELSIUS)),
  );
}

/** Hours at the reference temperature that age as much as these hours did:  sum of h_i times the ageing factor. */
export function thermalHours(
  runs: readonly { readonly hours: number; readonly celsius: number }[],
  referenceCelsius: number,
  activationEnergy = USUAL_ACTIVATION_ENERGY,
): number {
  return runs.reduce(
    (sum, { hours, celsius }) => sum + hours * ageingFactor(celsius, referenceCelsius, activationEnergy),
    0,
  );
}
