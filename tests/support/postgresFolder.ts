import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { cp, mkdir, readdir, readFile, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openEmbedded } from "../../server/storage/embeddedDatabase.ts";
import { migrationsFolder } from "../../server/storage/migrationsFolder.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

/**
 * Puts an empty, migrated data folder of the embedded store at `target` (`<store folder>/data`).
 *
 * A first start makes a thousand files and takes seconds; here it is done once and kept in `.cache/`, under a name
 * made of the engine's version and the migrations, and copied from then on.
 */
export async function copyEmptyData(target: string): Promise<void> {
  // With their times: files that look new would all be synced once more.
  await cp(await keptFolder(), target, { recursive: true, preserveTimestamps: true });
}

async function keptFolder(): Promise<string> {
  const hash = createHash("sha256");
  const engine = await readFile(join(root, "node_modules/@electric-sql/pglite/package.json"), "utf8");
  hash.update(String((JSON.parse(engine) as { readonly version?: string }).version));
  for (const name of (await readdir(migrationsFolder)).sort()) {
    if (name.endsWith(".sql")) hash.update(await readFile(join(migrationsFolder, name)));
  }
  const kept = join(root, ".cache", `empty-data-${hash.digest("hex").slice(0, 12)}`);
  if (existsSync(kept)) return kept;
  await mkdir(join(root, ".cache"), { recursive: true });
  const making = `${kept}.${process.pid}`;
  await (await openEmbedded(making)).close();
  // Another test file may have been quicker.
  await rename(making, kept).catch(() => rm(making, { recursive: true, force: true }));
  return kept;
}
