import { AnalysisError } from "../errors.ts";
import { checkPositive } from "./checkPositive.ts";

/**
 * Compression set at constant deflection, as a fraction:  C_B = (t_0 - t_i) / (t_0 - t_n).
 *
 * @param original   Thickness or section before.
 * @param recovered  After 30 minutes of recovery.
 * @param spacer     Thickness while compressed; for an O-ring at teardown, the gland depth. Below `original`.
 * Cautions  State time and temperature with it. Method A (constant force) divides by t_0: never compare A with B. At teardown
 *           the section before is a drawing value, so a few per cent are the tolerance of the part.
 * Errors    "bad-setting" for a value that is not above 0, or a spacer that does not compress.
 * Source    ASTM D395-16 Method B; ISO 815-1.
 */
export function compressionSet(original: number, recovered: number, spacer: number): number {
  checkPositive({ original, recovered, spacer });
  if (!(spacer < original))
    throw new AnalysisError("bad-setting", { setting: "spacer", value: spacer, allowed: `below ${original}` });
  return (original - recovered) / (original - spacer);
}
