import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** The generated migrations, beside this file. */
export const migrationsFolder = fileURLToPath(new URL("./migrations", import.meta.url));

/** When the newest migration was made: a store with a later one was opened by a newer version. */
export function newestMigration(): number {
  const journal = JSON.parse(readFileSync(join(migrationsFolder, "meta", "_journal.json"), "utf8")) as {
    readonly entries: readonly { readonly when: number }[];
  };
  return Math.max(...journal.entries.map(({ when }) => when));
}
