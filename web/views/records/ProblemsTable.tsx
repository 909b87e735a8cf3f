import { useState } from "preact/hooks";
import { formatExact, type Problem, sayProblem } from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { withoutPlace } from "../parts/withoutPlace.ts";

const atFirst = 8;

/** Every problem at its line and column, errors first, in words. */
export function ProblemsTable({
  caption,
  problems,
  inAll = problems.length,
}: {
  readonly caption: string;
  readonly problems: readonly Problem[];
  /** How many there are, where only the first of a large sheet are listed. */
  readonly inAll?: number;
}) {
  const [all, setAll] = useState(false);
  if (problems.length === 0) return null;
  const ordered = [
    ...problems.filter((p) => p.severity === "error"),
    ...problems.filter((p) => p.severity !== "error"),
  ];
  const rows = (all ? ordered : ordered.slice(0, atFirst)).map((problem, index) => ({ problem, index }));
  return (
    <div>
      <DataTable
        caption={`${caption} (${formatExact(inAll)})`}
        fill
        rows={rows}
        keyOf={({ index }) => String(index)}
        file={fileName([caption, problems[0]?.origin.file ?? null], "csv")}
        columns={[
          {
            title: "Line",
            numeric: true,
            show: ({ problem }) => problem.origin.line,
            value: ({ problem }) => problem.origin.line,
          },
          { title: "Column", show: ({ problem }) => problem.column ?? "", value: ({ problem }) => problem.column },
          { title: "As written", show: ({ problem }) => problem.value ?? "", value: ({ problem }) => problem.value },
          {
            title: "What is wrong",
            show: ({ problem }) => withoutPlace(problem),
            value: ({ problem }) => sayProblem(problem),
          },
        ]}
      />
      {problems.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${problems.length}`}
        </button>
      ) : null}
      {inAll > problems.length ? (
        <p class="small muted">
          The first {formatExact(problems.length)} are listed here; all {formatExact(inAll)} are kept with the drop.
        </p>
      ) : null}
    </div>
  );
}
