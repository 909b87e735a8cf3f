import { rebuildStore } from "../storage/rebuildStore.ts";
import { type Command, readOptions, storePlace, UsageError } from "./command.ts";

/** `rebuild`: the store made again from its journal, compared table by table with the old one. */
export const rebuildCommand: Command = {
  name: "rebuild",
  usage: "rebuild [--replace] [--data FOLDER]",
  about:
    "Makes the store again from the journal and compares each table with the old one. Where they differ the old store stays, unless --replace says to take the new one.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, {
      replace: { type: "boolean", default: false },
      data: { type: "string" },
    });
    if (positionals.length > 0) throw new UsageError(`"${positionals.join(" ")}" is not understood.`);
    const report = await rebuildStore({ ...storePlace(values.data, terminal), replace: values.replace });
    for (const { table, before, after } of report.tables) {
      const said = before === null ? "not there before" : before === after ? "equal" : `differs (was ${before})`;
      terminal.out(`${table}: ${after} ${said}`);
    }
    terminal.out(`Read ${report.entries} entries of the journal; stored ${report.batches} batches again.`);
    if (report.unreadable !== null) terminal.out(`The old store could not be read (${report.unreadable}).`);
    if (report.tornLine !== null) terminal.out(`The cut-off last line of the journal was kept in ${report.tornLine}.`);
    if (report.differing.length > 0)
      terminal.err(`Batch ${report.differing.join(", ")} reads otherwise today than when it was stored.`);
    if (report.keptOld !== null) terminal.out(`The old tables are kept in ${report.keptOld}.`);
    if (!report.swapped) {
      terminal.err(
        "The rebuilt store differs from the old one, which was left as it is. Use --replace to take the new one.",
      );
      return 1;
    }
    terminal.out(report.equal ? "All tables are equal to those before." : "The rebuilt store is in use.");
    return 0;
  },
};
