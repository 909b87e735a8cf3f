import { writeFile } from "node:fs/promises";
import { openApiDocument } from "../contracts/openApi.ts";
import { type Command, readOptions, UsageError } from "./command.ts";

/** `openapi`: the description of the HTTP addresses. */
export const openApiCommand: Command = {
  name: "openapi",
  usage: "openapi [--out FILE]",
  about: "Prints the OpenAPI 3.1 description of the HTTP addresses, or writes it to a file.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, { out: { type: "string" } });
    if (positionals.length > 0) throw new UsageError(`"${positionals.join(" ")}" is not understood.`);
    const text = JSON.stringify(openApiDocument(), null, 2);
    if (values.out === undefined) terminal.out(text);
    else {
      await writeFile(values.out, `${text}\n`);
      terminal.out(`Wrote ${values.out}`);
    }
    return 0;
  },
};
