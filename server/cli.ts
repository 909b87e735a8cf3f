/** `npm run afterrun -- COMMAND`. */
import { runCommandLine } from "./commands/runCommandLine.ts";

process.exitCode = await runCommandLine(process.argv.slice(2), {
  out: (line) => process.stdout.write(`${line}\n`),
  err: (line) => process.stderr.write(`${line}\n`),
  env: process.env,
  clock: () => new Date(),
});
