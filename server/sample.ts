import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** Under this name the invented sample fleet is stored; no initials can be written like it. */
export const sampleName = "sample fleet (invented)";

/** The sheets, mappings and words of the sample fleet. */
export const sampleFolder = join(fileURLToPath(new URL("../", import.meta.url)), "datasets", "sample-fleet");
