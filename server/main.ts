/** `npm start`: the product on this machine. Settings: AFTERRUN_DATA, DATABASE_URL, PORT, AFTERRUN_LOG, --no-sample. */
import { parseArgs } from "node:util";
import { sayFailure } from "./sayFailure.ts";
import { startServer } from "./start.ts";

const usage = "Usage: npm start -- [--no-sample]";

function settings() {
  const { values } = parseArgs({ options: { "no-sample": { type: "boolean", default: false } } });
  const port = Number(process.env.PORT ?? "4870");
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new RangeError(`PORT is "${process.env.PORT}"; it takes a whole number from 0 to 65535.`);
  const { AFTERRUN_DATA, DATABASE_URL, AFTERRUN_LOG } = process.env;
  return {
    folder: AFTERRUN_DATA || ".data",
    ...(DATABASE_URL ? { databaseUrl: DATABASE_URL } : {}),
    port,
    sample: !values["no-sample"],
    logLevel: AFTERRUN_LOG || "warn",
  };
}

function readSettings() {
  try {
    return settings();
  } catch (error) {
    console.error(`${error instanceof Error ? error.message : String(error)}\n${usage}`);
    process.exit(2);
  }
}

try {
  const running = await startServer({ ...readSettings(), say: (line) => console.log(line) });
  console.log(`Afterrun is at ${running.address} (stop it with Ctrl+C).`);
  let askedAt: number | null = null;
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    process.on(signal, () => {
      // A terminal and a wrapper may both pass on one Ctrl+C. A later one says that whoever waits has waited long
      // enough; the journal keeps what was stored.
      if (askedAt !== null && performance.now() - askedAt > 1_500) process.exit(1);
      if (askedAt !== null) return;
      askedAt = performance.now();
      running.close().then(
        () => process.exit(0),
        (error: unknown) => {
          console.error(sayFailure(error));
          process.exit(1);
        },
      );
    });
  }
} catch (error) {
  console.error(sayFailure(error));
  process.exit(1);
}
