/** `npm run datasets`: writes the default fleet's sheets, mappings, words, planted faults, truth and data package. */
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { fleetFiles } from "./fleetFiles.ts";

const folder = join(dirname(fileURLToPath(import.meta.url)), "..");
for (const part of ["sheets", "mappings"]) rmSync(join(folder, part), { recursive: true, force: true });
for (const [name, text] of fleetFiles()) {
  mkdirSync(dirname(join(folder, name)), { recursive: true });
  writeFileSync(join(folder, name), text);
  console.log(`${name}: ${text.split("\n").length - 1} lines`);
}
