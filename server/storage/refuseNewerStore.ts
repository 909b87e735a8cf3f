import { newestMigration } from "./migrationsFolder.ts";
import type { Sql } from "./sql.ts";
import { StorageError } from "./storageError.ts";

/** Refuses a store that a newer version has migrated: this one would not know its columns. */
export async function refuseNewerStore(sql: Sql, place: string): Promise<void> {
  const [found] = await sql.query("select to_regclass('drizzle.__drizzle_migrations') is not null as there");
  if (found?.there !== true) return;
  const [newest] = await sql.query("select max(created_at)::float8 as applied from drizzle.__drizzle_migrations");
  if (Number(newest?.applied ?? 0) > newestMigration()) throw new StorageError("store-newer", { place });
}
