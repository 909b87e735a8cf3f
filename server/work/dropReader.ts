import {
  AnalysisError,
  type DropReading,
  keyOf,
  previewDrop,
  type Row,
  type StoredValues,
} from "../../analysis/index.ts";
import { headersOfLines } from "../intake/headersOfLines.ts";
import { readSheets, type SheetOfDrop } from "../intake/readSheets.ts";
import type { DropReply, DropTask, Progress } from "./dropTasks.ts";
import { RecentlyUsed } from "./recentlyUsed.ts";

const betweenReports = 100;
const mostListed = 2_000;

interface Kept {
  readonly reading: DropReading;
  readonly headers: readonly (readonly string[])[];
}

/**
 * Reads drops, one task at a time, keeping what later tasks need: the stored rows under their hash, the readings made
 * last. Runs in a worker; for a few small text sheets also in the main process.
 */
export function dropReader(): (task: DropTask) => DropReply {
  const stored = new RecentlyUsed<readonly StoredValues[]>(2);
  const arriving = new Map<string, StoredValues[]>();
  const readings = new RecentlyUsed<Kept>(2);

  function read(task: Extract<DropTask, { kind: "read" }>): DropReply {
    const known = stored.get(task.context.dataHash);
    if (known === undefined) return { kind: "stored wanted" };
    const report = reporter((progress) => task.progress?.postMessage(progress));
    const sheets = readSheets(task.files, task.answers, (done) => report.read(done));
    const { remembered, words } = task.context;
    const reading = previewDrop({
      sheets,
      remembered,
      words,
      stored: known,
      answers: task.answers,
      onProgress: report.mapped,
    });
    readings.set(task.reading, { reading, headers: sheets.map(({ sheet }: SheetOfDrop) => sheet.headers) });
    const { mapped, ...rest } = reading;
    const lines = mapped.map((each) => each.mapped.lines.length);
    return { kind: "read", head: { ...rest, files: rest.files.map(shortened), lines } };
  }

  function handle(task: DropTask): DropReply {
    switch (task.kind) {
      case "stored": {
        const rows = arriving.get(task.dataHash) ?? [];
        for (const values of task.rows)
          rows.push({ table: task.table, key: keyOf(task.table, values as Row<typeof task.table>), values });
        if (task.last) {
          arriving.delete(task.dataHash);
          stored.set(task.dataHash, rows);
        } else arriving.set(task.dataHash, rows);
        return { kind: "done" };
      }
      case "read":
        return read(task);
      case "rows": {
        const sheet = readings.get(task.reading)?.reading.mapped[task.sheet];
        if (sheet === undefined) return { kind: "reading wanted" };
        return { kind: "rows", lines: sheet.mapped.lines.slice(task.from, task.to) };
      }
      case "set aside": {
        const kept = readings.get(task.reading);
        const sheet = kept?.reading.mapped[task.sheet];
        if (kept === undefined || sheet === undefined) return { kind: "reading wanted" };
        const { lines: _rows, ...rest } = sheet.mapped;
        return { kind: "set aside", sheet: rest, mapping: sheet.mapping, headers: kept.headers[task.sheet] ?? [] };
      }
      case "headers":
        return { kind: "headers", found: headersOfLines(task) };
    }
  }

  return (task) => {
    try {
      return handle(task);
    } catch (error) {
      if (error instanceof AnalysisError) return { kind: "refused", code: error.code, facts: error.facts };
      throw error;
    }
  };
}

/** Nobody reads more than the first of them, and a hundred thousand would hold up everything else while they are sent. */
function shortened(file: DropReading["files"][number]): DropReading["files"][number] {
  const { problems, changes } = file;
  if (problems.length <= mostListed && changes.length <= mostListed) return file;
  return {
    ...file,
    problems: problems.slice(0, mostListed),
    changes: changes.slice(0, mostListed),
    inAll: { problems: problems.length, changes: changes.length },
  };
}

/**
 * Turns counts into a share that never falls: cutting takes about a third of the time, mapping the rest. How often
 * mapping is done is not known before (words found in the sheets themselves ask for one more), so each round takes half
 * of what is left.
 */
function reporter(post: (progress: Progress) => void) {
  let [last, round, before, share] = [0, 0, 0, 0];
  const send = (progress: Progress) => {
    share = Math.max(share, progress.share);
    const now = performance.now();
    if (now - last < betweenReports) return;
    last = now;
    post({ ...progress, share });
  };
  return {
    read: (done: number) =>
      send({ stage: "reading", rows: done, rowsInAll: null, share: 0.3 * (1 - 1 / (1 + done / 20_000)) }),
    mapped: (stage: "mapping" | "comparing", done: number, of: number) => {
      if (stage === "mapping" && done < before) round += 1;
      before = done;
      const within = of === 0 ? 1 : done / of;
      if (stage === "comparing") send({ stage, rows: of, rowsInAll: of, share: 0.95 });
      else send({ stage, rows: done, rowsInAll: of, share: 0.3 + 0.6 * (1 - 0.5 ** round * (1 - within / 2)) });
    },
  };
}
