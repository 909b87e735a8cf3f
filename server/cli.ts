/** `npm run afterrun -- COMMAND`. Exit codes: 0 done, 1 refused or failed, 2 not understood. */

import { backupCommand } from "./commands/backupCommand.ts";
import { type Command, type Terminal, UsageError } from "./commands/command.ts";
import { exportCommand } from "./commands/exportCommand.ts";
import { importCommand } from "./commands/importCommand.ts";
import { livesCommand } from "./commands/livesCommand.ts";
import { moveCommand } from "./commands/moveCommand.ts";
import { openApiCommand } from "./commands/openApiCommand.ts";
import { rebuildCommand } from "./commands/rebuildCommand.ts";
import { restoreCommand } from "./commands/restoreCommand.ts";
import { setupCommand } from "./commands/setupCommand.ts";
import { statementCommand } from "./commands/statementCommand.ts";
import { studyCommand } from "./commands/studyCommand.ts";
import { RequestError } from "./routes/requestError.ts";
import { sayFailure } from "./sayFailure.ts";

const commands: readonly Command[] = [
  importCommand,
  studyCommand,
  statementCommand,
  livesCommand,
  setupCommand,
  exportCommand,
  backupCommand,
  restoreCommand,
  moveCommand,
  rebuildCommand,
  openApiCommand,
];

const terminal: Terminal = {
  out: (line) => process.stdout.write(`${line}\n`),
  err: (line) => process.stderr.write(`${line}\n`),
  env: process.env,
  clock: () => new Date(),
};

process.exitCode = await main(process.argv.slice(2));

async function main([name, ...words]: readonly string[]): Promise<0 | 1 | 2> {
  if (name === undefined || ["help", "--help", "-h"].includes(name)) {
    terminal.out(help());
    return name === undefined ? 2 : 0;
  }
  const command = commands.find((each) => each.name === name);
  if (command === undefined) {
    terminal.err(`There is no command "${name}". The commands are ${commands.map((each) => each.name).join(", ")}.`);
    return 2;
  }
  try {
    return await command.run(words, terminal);
  } catch (error) {
    const misunderstood =
      error instanceof UsageError || (error instanceof RequestError && error.code === "bad-parameter");
    terminal.err(error instanceof UsageError ? error.message : sayFailure(error));
    if (!misunderstood) return 1;
    terminal.err(`Usage: npm run afterrun -- ${command.usage}`);
    return 2;
  }
}

function help(): string {
  const lines = commands.flatMap(({ usage, about }) => [`  ${usage}`, `      ${about}`]);
  return [
    "Usage: npm run afterrun -- COMMAND",
    "",
    ...lines,
    "  help",
    "      Prints this.",
    "",
    "The store is in the folder .data unless --data or AFTERRUN_DATA says otherwise; DATABASE_URL names a PostgreSQL server.",
    "Numbers are advice only: the maker's manual, local codes and licensed practice govern.",
  ].join("\n");
}
