/** The two engines under one face: a folder, and a database in it or beside it. */
import { cp, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openEmbedded } from "../../../../server/storage/embeddedDatabase.ts";
import type { OpenStoreOptions } from "../../../../server/storage/store.ts";
import { startPostgres } from "../../../support/postgres.ts";

export interface Place {
  readonly folder: string;
  readonly databaseUrl?: string;
}

export interface Engine {
  /** A new folder, with an empty store. */
  freshPlace(): Promise<Place>;
  /** The same folder and journal with the store lost. */
  withoutStore(place: Place): Promise<Place>;
  stop(): Promise<void>;
}

export const engines = ["embedded", "server"] as const;

export async function startEngine(kind: (typeof engines)[number]): Promise<Engine> {
  const parent = await mkdtemp(join(tmpdir(), "afterrun-store-"));
  let count = 0;
  const freshFolder = () => join(parent, `place-${++count}`);
  if (kind === "server") {
    const postgres = await startPostgres();
    return {
      freshPlace: async () => ({ folder: freshFolder(), databaseUrl: await postgres.freshDatabase() }),
      withoutStore: async ({ folder }) => ({ folder, databaseUrl: await postgres.freshDatabase() }),
      async stop() {
        await postgres.stop();
        await rm(parent, { recursive: true, force: true });
      },
    };
  }
  // A first start takes seconds; its data folder, empty but migrated, is copied instead.
  const template = join(parent, "template");
  await (await openEmbedded(template)).close();
  return {
    async freshPlace() {
      const folder = freshFolder();
      await cp(template, join(folder, "data"), { recursive: true });
      return { folder };
    },
    async withoutStore({ folder }) {
      await rm(join(folder, "data"), { recursive: true, force: true });
      await cp(template, join(folder, "data"), { recursive: true });
      return { folder };
    },
    stop: () => rm(parent, { recursive: true, force: true }),
  };
}

export const optionsOf = (place: Place, more: Partial<OpenStoreOptions> = {}): OpenStoreOptions => ({
  ...place,
  ...more,
});
