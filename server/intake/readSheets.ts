import { type DropAnswers, nameOfSheet, type SheetCells } from "../../analysis/index.ts";
import type { DroppedFile } from "./draft.ts";
import { readFile } from "./readFile.ts";

/** The sheets of all files, in order; one whose mapping was edited by hand is cut the way that mapping says. */
export function readSheets(
  files: readonly DroppedFile[],
  { mappings = {} }: DropAnswers,
  onRows: (done: number) => void = () => undefined,
): readonly SheetOfDrop[] {
  const edited = new Map(Object.entries(mappings));
  let before = 0;
  return files.flatMap(({ file, bytes }) => {
    const formatOf = (sheet: string | null) => edited.get(nameOfSheet({ file, sheet }))?.format;
    const sheets = readFile(bytes, file, formatOf, (done) => onRows(before + done));
    before += sheets.reduce((sum, { rows }) => sum + rows.length, 0);
    return sheets.map((sheet) => ({ sheet, bytes: bytes.length }));
  });
}

export interface SheetOfDrop {
  readonly sheet: SheetCells;
  /** Size of its file. */
  readonly bytes: number;
}
