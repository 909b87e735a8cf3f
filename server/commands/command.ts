import { type ParseArgsConfig, parseArgs } from "node:util";

/** Where a command writes: lines for the reader, and lines about what went wrong. */
export interface Terminal {
  readonly out: (line: string) => void;
  readonly err: (line: string) => void;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly clock: () => Date;
}

export interface Command {
  readonly name: string;
  readonly usage: string;
  readonly about: string;
  /** 0 done, 1 refused or failed. Throws `UsageError` where the command was not understood. */
  readonly run: (words: readonly string[], terminal: Terminal) => Promise<0 | 1>;
}

/** The command was written in a way that is not understood; exit code 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

/** Options and positional words of a command. Errors  `UsageError` for an option that is not known or has no value. */
export function readOptions<O extends NonNullable<ParseArgsConfig["options"]>>(words: readonly string[], options: O) {
  try {
    return parseArgs({ args: [...words], options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
}

/** Where the store is: `--data`, AFTERRUN_DATA or `.data`, and DATABASE_URL for a server. */
export function storePlace(data: string | undefined, { env }: Terminal) {
  const databaseUrl = env.DATABASE_URL;
  return {
    folder: data ?? (env.AFTERRUN_DATA || ".data"),
    ...(databaseUrl ? { databaseUrl } : {}),
  };
}
