/** `npm run afterrun -- COMMAND`. */
import { runCommandLine } from "./commands/runCommandLine.ts";

// Whoever reads may stop reading (`| head`): what was begun is finished and the folder given back all the same.
for (const stream of [process.stdout, process.stderr])
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
  });

process.exitCode = await runCommandLine(process.argv.slice(2), {
  out: (line) => process.stdout.write(`${line}\n`),
  err: (line) => process.stderr.write(`${line}\n`),
  env: process.env,
  clock: () => new Date(),
});
