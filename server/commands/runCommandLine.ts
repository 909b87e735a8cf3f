import { RequestError } from "../routes/requestError.ts";
import { sayFailure } from "../sayFailure.ts";
import { backupCommand } from "./backupCommand.ts";
import { type Command, type Terminal, UsageError } from "./command.ts";
import { exportCommand } from "./exportCommand.ts";
import { importCommand } from "./importCommand.ts";
import { livesCommand } from "./livesCommand.ts";
import { moveCommand } from "./moveCommand.ts";
import { openApiCommand } from "./openApiCommand.ts";
import { rebuildCommand } from "./rebuildCommand.ts";
import { restoreCommand } from "./restoreCommand.ts";
import { setupCommand } from "./setupCommand.ts";
import { statementCommand } from "./statementCommand.ts";
import { studyCommand } from "./studyCommand.ts";

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

/**
 * Runs one command of the command line. Exit codes: 0 done, 1 refused or failed, 2 not understood.
 *
 * @param words  The command's name, then its options.
 */
export async function runCommandLine([name, ...words]: readonly string[], terminal: Terminal): Promise<0 | 1 | 2> {
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
