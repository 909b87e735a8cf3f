import { moveStore } from "../storage/moveStore.ts";
import { type Command, readOptions, storePlace, UsageError } from "./command.ts";

/** `move --to URL|FOLDER`: to a PostgreSQL server, or to a folder and its embedded store. */
export const moveCommand: Command = {
  name: "move",
  usage: "move --to postgres://...|FOLDER [--data FOLDER]",
  about:
    "Moves the store to a PostgreSQL server or back into a folder and compares every table. The journal stays in its folder with a server, and is copied with a folder. The store moved from is left as it is.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, { to: { type: "string" }, data: { type: "string" } });
    if (positionals.length > 0) throw new UsageError(`"${positionals.join(" ")}" is not understood.`);
    if (values.to === undefined) throw new UsageError("move takes --to with an address or a folder.");
    const { batches, tables, to } = await moveStore({ from: storePlace(values.data, terminal), to: values.to });
    for (const { table, after } of tables) terminal.out(`${table}: ${after} equal`);
    terminal.out(`Moved ${batches} batches; all ${tables.length} tables are equal.`);
    terminal.out(
      to.databaseUrl === undefined
        ? `To use it, start with AFTERRUN_DATA=${to.folder} and without DATABASE_URL.`
        : `To use it, start with AFTERRUN_DATA=${to.folder} and DATABASE_URL set to that address.`,
    );
    return 0;
  },
};
