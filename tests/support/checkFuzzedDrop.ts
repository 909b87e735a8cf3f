import { AnalysisError, previewDrop, type StoredValues, sayError, sayProblem } from "../../analysis/index.ts";
import { dropPreview } from "../../server/contracts/api.ts";
import { readFile } from "../../server/intake/readFile.ts";
import { readSheets } from "../../server/intake/readSheets.ts";
import { readable, repairSheet } from "../../server/intake/repairSheet.ts";
import { fuzzedDrop } from "./fuzzedDrops.ts";

export interface FuzzOutcome {
  /** The code of the refusal, or "read". */
  readonly outcome: string;
  readonly lines: number;
  readonly setAside: number;
}

const noWords = { version: 0, vocabularies: {} };

/**
 * Reads the drop of a seed the way the server does and checks that every line of every sheet is accounted for: once in
 * the counts, once among the rows or the lines set aside; that the same drop again, with everything confirmed and
 * stored, finds nothing new, changed or missing; that lines given back for repair read as the same cells; and that whatever is said of it can
 * be said and sent.
 *
 * Errors  an `Error` saying what does not hold.
 */
export function checkFuzzedDrop(seed: number): FuzzOutcome {
  const files = fuzzedDrop(seed);
  try {
    const sheets = readSheets(files, {});
    const first = previewDrop({ sheets, remembered: [], words: noWords, stored: [], answers: {} });
    for (const [index, { sheet }] of sheets.entries()) {
      const mapped = first.mapped[index]?.mapped;
      const counts = first.files[index]?.counts;
      if (mapped === undefined || counts === undefined) throw new Error(`sheet ${index} was lost`);
      const found = [...mapped.lines, ...mapped.setAside].map(({ line }) => line).sort((a, b) => a - b);
      must(
        sameList(
          found,
          sheet.rows.map(({ line }) => line),
        ),
        `lines of sheet ${index}`,
        [found.length, sheet.rows.length],
      );
      const sum = counts.new + counts.unchanged + counts.changed + counts.setAside;
      must(counts.lines === sheet.rows.length && sum === counts.lines, `counts of sheet ${index}`, counts);
      const written = files.find(({ file }) => file === sheet.file)?.written;
      const { skipLines, headerLines = 1, comment } = sheet.format;
      if (written?.[0] !== undefined && comment === null)
        must(written[0] === sheet.rows.length + skipLines + headerLines, `lines written in ${sheet.file}`, [
          written[0],
          sheet.rows.length,
          sheet.format,
        ]);
      checkRepair(sheet.headers, sheet.format, mapped.setAside);
    }
    const { mapped: _rows, missing: _missing, ...preview } = first;
    dropPreview.strict().parse(JSON.parse(JSON.stringify({ id: "x", ...preview })));
    for (const problem of [...first.files.flatMap((file) => file.problems), ...first.linkProblems]) sayProblem(problem);

    // Everything confirmed, then stored, then dropped again.
    const answers = { confirm: first.confirmations.map(({ id }) => id), setup: first.setup };
    const confirmed = previewDrop({ sheets, remembered: [], words: noWords, stored: [], answers });
    const rows = confirmed.mapped.flatMap(({ mapped }) => mapped.lines.flatMap((line) => line.rows));
    const stored: StoredValues[] = [...new Map(rows.map((row) => [`${row.table} ${row.key}`, row])).values()];
    const remembered = confirmed.mapped.map(({ mapping }) => mapping);
    const again = previewDrop({ sheets, remembered, words: confirmed.words, stored, answers: {} });
    must(again.counts.lines === first.counts.lines, "lines at the second drop", again.counts);
    must(again.counts.new === 0 && again.counts.changed === 0, "new or changed at the second drop", again.counts);
    must(again.missing.length === 0, "rows missing at the second drop", again.missing);
    must(Object.keys(Object.prototype).length === 0, "the prototype of all objects", Object.keys(Object.prototype));
    return { outcome: "read", lines: first.counts.lines, setAside: first.counts.setAside };
  } catch (error) {
    if (!(error instanceof AnalysisError)) throw error;
    const said = sayError(error);
    must(
      files.some(({ file }) => error.facts.file === file && said.startsWith(file)),
      "the file in the refusal",
      said,
    );
    return { outcome: error.code, lines: 0, setAside: 0 };
  }
}

type Sheet = Parameters<typeof repairSheet>[0];

/** Only where the headers are found again: a header of numbers or dates is taken for a line, and was so before. */
function checkRepair(headers: readonly string[], format: Sheet["format"], setAside: Sheet["setAside"]): void {
  if (setAside.length === 0) return;
  const text = repairSheet({ headers, format, setAside });
  const [sheet] = readFile(new TextEncoder().encode(text), "repair.csv");
  if (sheet === undefined || sheet.format.skipLines > 0 || !sameList(sheet.headers, headers)) return;
  must(sheet.rows.length === setAside.length, "lines given back for repair", [sheet.rows.length, setAside.length]);
  for (const [index, { cells }] of setAside.entries()) {
    const back = sheet.rows[index]?.cells ?? [];
    const width = Math.max(cells.length, back.length);
    for (let column = 0; column < width; column++)
      must(readable(cells[column] ?? "") === (back[column] ?? ""), "a cell given back for repair", [
        cells[column],
        back[column],
      ]);
  }
}

const sameList = <T>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((value, index) => value === b[index]);

function must(holds: boolean, what: string, found: unknown): void {
  if (!holds) throw new Error(`${what}: ${JSON.stringify(found)?.slice(0, 400)}`);
}
