/** Runs in a worker: writes one file of a statement. */
import { type StatementFile, writeFile } from "../statement/writeFile.ts";
import type { StatementFileRequest } from "./tasks.ts";

export default function answer({ statement, issue, name }: StatementFileRequest): Promise<StatementFile | null> {
  return writeFile(statement, issue, name);
}
