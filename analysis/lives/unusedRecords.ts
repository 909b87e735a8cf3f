import { keyOf, type Records, type Row, type RowRef } from "../records/descriptor.ts";
import { type ClockRuns, push } from "./clockRuns.ts";
import type { Track, Tracks } from "./tracks.ts";
import type { LivesNotice } from "./types.ts";

/** Takes hours of runs that no build carries out of the account of used hours, with a notice each. */
export function refuseRunsWithoutBuild(
  records: Records,
  clock: ClockRuns,
  { tracks, redressesBySerial }: Tracks,
  notices: LivesNotice[],
): void {
  const listed = new Set((records.tools ?? []).map(({ serial }) => serial));
  const used = new Map<string, { from: number; to: number }[]>();
  for (const { serial, fromDay, toDay } of tracks.flatMap(({ stints }: Track) => stints)) {
    push(used, serial, { from: fromDay, to: toDay });
  }
  for (const [serial, runs] of clock.bySerial) {
    for (const { run, row, outDay, hours } of runs) {
      if (!listed.has(serial)) {
        clock.account.refuse("run of a tool not in the list", hours);
        if (!redressesBySerial.has(serial)) notices.push({ code: "tool-not-listed", facts: { serial }, rows: [row] });
      } else if (!(used.get(serial) ?? []).some(({ from, to }) => outDay >= from && outDay < to)) {
        clock.account.refuse("run without build", hours);
        notices.push({ code: "run-without-build", facts: { run: run.run, serial, out_on: run.out_on }, rows: [row] });
      }
    }
  }
}

/** Looks at tools of which no build is on record: nothing can be dated from them. */
export function looksWithoutBuild(
  teardownsBySerial: ReadonlyMap<string, readonly Row<"teardowns">[]>,
  redressesBySerial: Tracks["redressesBySerial"],
): LivesNotice[] {
  return [...teardownsBySerial]
    .filter(([serial]) => !redressesBySerial.has(serial))
    .flatMap(([serial, teardowns]) =>
      teardowns.map(
        ({ teardown, done_on: on }): LivesNotice => ({
          code: "look-without-build",
          facts: { teardown, serial, on },
          rows: [{ table: "teardowns", key: JSON.stringify([teardown]) }],
        }),
      ),
    );
}

/** Findings that name an item or a mode which the item list does not have: kept, told, and used by no life. */
export function unlistedNames(
  records: Records,
  itemsOf: ReadonlyMap<string, Row<"tool_items">>,
  modesOf: ReadonlyMap<string, readonly { readonly mode: string }[]>,
): LivesNotice[] {
  const typeOf = new Map((records.tools ?? []).map(({ serial, tool_type }) => [serial, tool_type]));
  const serialOf = new Map((records.teardowns ?? []).map(({ teardown, serial }) => [teardown, serial]));
  const grouped = new Map<
    string,
    { code: "item-not-listed" | "mode-not-listed"; facts: Record<string, string | number>; rows: RowRef[] }
  >();
  for (const finding of records.findings ?? []) {
    const type = typeOf.get(serialOf.get(finding.teardown) ?? "");
    if (type === undefined) continue;
    const key = `${type}\u0000${finding.item}`;
    const code = !itemsOf.has(key) ? "item-not-listed" : "mode-not-listed";
    if (
      code === "mode-not-listed" &&
      (finding.condition === "sound" || modesOf.get(key)?.some(({ mode }) => mode === finding.condition))
    )
      continue;
    const name = code === "item-not-listed" ? key : `${key}\u0000${finding.condition}`;
    const entry = grouped.get(name) ?? {
      code,
      facts: { tool_type: type, item: finding.item, mode: finding.condition, count: 0 },
      rows: [],
    };
    entry.facts.count = Number(entry.facts.count) + 1;
    entry.rows.push({ table: "findings", key: keyOf("findings", finding) });
    grouped.set(name, entry);
  }
  return [...grouped.values()];
}
