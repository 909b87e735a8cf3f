import { drizzle } from "drizzle-orm/node-postgres";
import { migrate } from "drizzle-orm/node-postgres/migrator";
import pg from "pg";
import { migrationsFolder } from "./migrationsFolder.ts";
import { refuseNewerStore } from "./refuseNewerStore.ts";
import type { Database, Sql } from "./sql.ts";
import { reasonOf, StorageError } from "./storageError.ts";

/** Connects to a PostgreSQL server and brings the database to the newest schema. */
export async function openServer(databaseUrl: string): Promise<Database> {
  const place = placeOf(databaseUrl);
  const pool = new pg.Pool({ connectionString: databaseUrl, max: 4, connectionTimeoutMillis: 10_000 });
  // A connection lost while idle must not end the process; the next query says what is wrong.
  pool.on("error", () => undefined);
  try {
    const sql = asSql(pool);
    await refuseOldServer(sql, place);
    await refuseNewerStore(sql, place);
    await migrate(drizzle(pool), { migrationsFolder });
  } catch (error) {
    await pool.end().catch(() => undefined);
    if (error instanceof StorageError) throw error;
    throw new StorageError("database-unreachable", { place, reason: reasonOf(error) });
  }

  return {
    kind: "server",
    place,
    ...asSql(pool),
    async transaction(work) {
      const client = await pool.connect();
      // A connection cut between two queries would end the process if nobody listened.
      let broken: Error | undefined;
      const onLost = (error: Error) => {
        broken = error;
      };
      client.on("error", onLost);
      try {
        await client.query("begin");
        const result = await work(asSql(client));
        await client.query("commit");
        return result;
      } catch (error) {
        await client.query("rollback").catch((again: Error) => {
          broken = again;
        });
        throw error;
      } finally {
        client.off("error", onLost);
        client.release(broken);
      }
    },
    // A server syncs its own files.
    sync: async () => undefined,
    close: () => pool.end(),
  };
}

function asSql(engine: pg.Pool | pg.PoolClient): Sql {
  return {
    async query(text, parameters = []) {
      return (await engine.query<Readonly<Record<string, unknown>>>(text, [...parameters])).rows;
    },
  };
}

async function refuseOldServer(sql: Sql, place: string): Promise<void> {
  const [row] = await sql.query(
    "select current_setting('server_version_num')::int as number, current_setting('server_version') as version",
  );
  if (Number(row?.number) < 150_000)
    throw new StorageError("database-too-old", { place, version: String(row?.version) });
}

/** Host and database of an address: what a message may show. */
function placeOf(databaseUrl: string): string {
  try {
    const { host, pathname } = new URL(databaseUrl);
    return `${host}${pathname}`;
  } catch {
    return "DATABASE_URL";
  }
}
