import { type Problem, type SheetFormat, sayProblem, whySetAsideHeader } from "../../analysis/index.ts";

const longestReason = 2_000;

export interface SheetToRepair {
  readonly headers: readonly string[];
  readonly format: Pick<SheetFormat, "delimiter">;
  readonly setAside: readonly { readonly cells: readonly string[]; readonly problems: readonly Problem[] }[];
}

/**
 * The lines of a sheet that were set aside, as a sheet that can be repaired and dropped again under the same mapping: the
 * same headers and delimiter, the cells as they were, and at the right why each line was set aside, which the reader
 * leaves out. What stood right of the last header stands right of the reason.
 *
 * Conventions  A cell that a spreadsheet would run as a formula is led by an apostrophe (OWASP, "CSV Injection"); the
 *              reader takes it off again.
 */
export function repairSheet({ headers, format: { delimiter }, setAside }: SheetToRepair): string {
  const lines = setAside.map(({ cells, problems }) => [
    ...headers.map((_, column) => guarded(cells[column] ?? "")),
    [...new Set(problems.map((problem) => sayProblem(problem)))].join(" ").slice(0, longestReason),
    ...cells.slice(headers.length).map(guarded),
  ]);
  const written = [[...headers.map(guarded), whySetAsideHeader], ...lines].map((cells) =>
    cells.map((cell, column) => quoted(cell, delimiter, column === 0)).join(delimiter),
  );
  return `\uFEFF${written.map(readable).join("\r\n")}\r\n`;
}

/** Control characters and halves of signs are dirt from an export, and would make a short file look like binary data. */
export const readable = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is replaced
  text.replace(/[\u0000-\u0008\u000b\u000e-\u001f\u007f\ufffd\p{Surrogate}]/gu, "?");

function guarded(cell: string): string {
  return /^'*[=+\-@|]/.test(cell) && !/^[+-]?\d[\d.,]*$/.test(cell) ? `'${cell}` : cell;
}

/** Takes off what `guarded` put on. */
export const unguarded = (cell: string): string => cell.replace(/^'(?='*[=+\-@|])/, "");

/** The first cell of a line is also quoted where the line would look like a comment. */
function quoted(cell: string, delimiter: string, first: boolean): string {
  const needed = /["\r\n]/.test(cell) || cell.includes(delimiter) || (first && /^(?:#|\/\/|%)/.test(cell));
  return needed ? `"${cell.replaceAll('"', '""')}"` : cell;
}
