import { tabNameHeader } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";

/**
 * Names the shape of a sheet by its set of headers: normalised, without repeats, in alphabetical order. A sheet whose
 * columns were moved, or whose headers changed case or spacing, keeps its fingerprint; one column more changes it.
 * The text is a JSON array, so it can be read, and no separator can collide with a header. The column of the tab's name
 * plays no part: a tab saved as CSV keeps its fingerprint.
 */
export function fingerprintOf(headers: readonly string[]): string {
  const names = headers
    .filter((header) => header !== tabNameHeader)
    .map(normalisePhrase)
    .filter((name) => name !== "");
  return JSON.stringify([...new Set(names)].sort());
}
