import type { StatementBlock, StatementCell, StatementSection } from "./document.ts";
import { boundTitles, countCell, hoursCell, percentCell } from "./figures.ts";
import { sayFailureFree } from "./sayRates.ts";
import type { Sources } from "./sources.ts";

/** Runs that the tool did not end, whole and by tool. */
export function runsSection({ statement, own }: Sources): StatementSection {
  const { failureFree, definition } = statement;
  const [low, high] = boundTitles(definition.confidence);
  const bySerial: StatementBlock = {
    kind: "table",
    id: "by-tool",
    title: "Runs not ended by the tool, by tool",
    columns: [
      { title: "Tool", kind: "text" },
      { title: "Runs", kind: "number" },
      { title: "Not ended by it", kind: "number" },
      { title: "Hours", kind: "number" },
      { title: "Per cent", kind: "number" },
      { title: low, kind: "number" },
      { title: high, kind: "number" },
    ],
    rows: failureFree.bySerial.map(({ serial, runs, free, hours, share }): readonly StatementCell[] => [
      serial,
      countCell(runs),
      countCell(free),
      hoursCell(hours),
      percentCell(share.value),
      percentCell(share.lower),
      percentCell(share.upper),
    ]),
    note: "Exact binomial bounds of each tool alone. Tools with few runs differ by chance: do not rank them.",
    result: own,
  };
  return {
    id: "runs",
    title: "Runs without a failure of the tool",
    blocks: [
      {
        kind: "paragraph",
        text: sayFailureFree({ ...failureFree, serials: failureFree.bySerial.length }, own),
      },
      ...(definition.audience === "engineer" && failureFree.runs > 0 ? [bySerial] : []),
    ],
  };
}
