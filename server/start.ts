import { createServer, type Server } from "node:http";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { pino } from "pino";
import { sayStorageNotice } from "../analysis/index.ts";
import { createApp } from "./app.ts";
import { storeReading } from "./intake/drops.ts";
import { filesOfFolder, mappingsOfFolder, readAccepting } from "./intake/importFolder.ts";
import { sampleFolder, sampleName } from "./sample.ts";
import { openStore } from "./storage/openStore.ts";
import type { Store } from "./storage/store.ts";
import { createDropPool } from "./work/dropPool.ts";
import { createStudyPool } from "./work/studyPool.ts";

const root = fileURLToPath(new URL("../", import.meta.url));

export interface StartOptions {
  readonly folder: string;
  readonly databaseUrl?: string;
  readonly port: number;
  /** Import the sample fleet where nothing is stored yet. */
  readonly sample: boolean;
  readonly webFolder?: string;
  readonly logLevel?: string;
  readonly clock?: () => Date;
  /** Receives each line for whoever started the program. */
  readonly say: (line: string) => void;
}

export interface RunningServer {
  readonly address: string;
  readonly port: number;
  /** Finishes what is being stored, stops answering, gives the data folder back. */
  close(): Promise<void>;
}

/** Opens the store, imports the sample where asked, and answers on a loopback port. */
export async function startServer({
  folder,
  databaseUrl,
  port,
  sample,
  webFolder = join(root, "dist", "web"),
  logLevel = "warn",
  clock = () => new Date(),
  say,
}: StartOptions): Promise<RunningServer> {
  const store = await openStore({ folder, ...(databaseUrl === undefined ? {} : { databaseUrl }) });
  try {
    for (const notice of store.opening) say(sayStorageNotice(notice.code, notice.facts));
    if (sample && (await store.batches()).length === 0) await importSample(store, clock(), say);

    const pool = createStudyPool();
    const dropPool = createDropPool();
    const logger = pino({ level: logLevel });
    const app = createApp({ store, pool, dropPool, clock, logger, sampleName, webFolder, warm: true });
    const server = createServer(app);
    const used = await listen(server, port).catch(async (error: unknown) => {
      await pool.close();
      throw error;
    });
    if (used !== port && port !== 0) say(`Port ${port} is in use by another program; port ${used} is used instead.`);
    let closing: Promise<void> | undefined;
    return {
      address: `http://localhost:${used}/`,
      port: used,
      close() {
        closing ??= closeAll(server, () => Promise.all([pool.close(), dropPool.close()]), store);
        return closing;
      },
    };
  } catch (error) {
    await store.close();
    throw error;
  }
}

/** The sample goes the way that a shop's own sheets go, with the mappings and words that come with it. */
async function importSample(store: Store, when: Date, say: (line: string) => void): Promise<void> {
  say("Nothing is stored yet: importing the sample fleet (invented tools of an invented shop).");
  const files = await filesOfFolder(join(sampleFolder, "sheets"));
  const broughtAlong = await mappingsOfFolder(join(sampleFolder, "mappings"));
  const { reading } = await readAccepting(files, broughtAlong, store, true);
  const { counts } = await storeReading({ reading, files, who: sampleName, when, store });
  say(
    `Imported ${counts.lines} lines of ${files.length} sheets; ${counts.setAside} lines were set aside with their reasons.`,
  );
}

/** Listens on loopback; where the port is taken, on one of the next twenty, or else on any free one. */
async function listen(server: Server, port: number): Promise<number> {
  const next =
    port === 0 ? [] : Array.from({ length: 20 }, (_, index) => port + 1 + index).filter((each) => each < 65_536);
  for (const candidate of [port, ...next, 0]) {
    try {
      return await listenOn(server, candidate);
    } catch (error) {
      const inUse = error instanceof Error && "code" in error && error.code === "EADDRINUSE";
      if (!inUse) throw error;
    }
  }
  throw new Error("No free port was found.");
}

function listenOn(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", () => {
      server.off("error", reject);
      const address = server.address();
      resolve(address !== null && typeof address === "object" ? address.port : port);
    });
  });
}

async function closeAll(server: Server, closePools: () => Promise<unknown>, store: Store): Promise<void> {
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  server.closeIdleConnections();
  // Requests still open after a moment are cut; a drop being stored is finished by `store.close`.
  const cut = setTimeout(() => server.closeAllConnections(), 3_000);
  await closePools();
  await closed;
  clearTimeout(cut);
  await store.close();
}
