import { keyOf, type Records, type Row, type RowRef } from "../records/descriptor.ts";
import { dayOf } from "./calendar.ts";
import { compare, compareNumbered, push } from "./clockRuns.ts";
import type { LivesNotice } from "./types.ts";

/** One look at one item: what it wrote down about the item, or that the item was in its scope. */
export interface ItemLook {
  readonly teardown: Row<"teardowns">;
  readonly day: number;
  readonly findings: readonly Row<"findings">[];
  /** Written down, or only covered by the checklist. */
  readonly how: "written" | "scope";
  /** A hidden mode can be called sound on this look. */
  readonly seesHidden: boolean;
  /** The item was destroyed: no clean look for its other modes. */
  readonly destroyed: boolean;
  readonly rows: readonly RowRef[];
}

export interface Looks {
  /** Looks by serial and item, in order of time. */
  readonly at: (serial: string, item: string) => readonly ItemLook[];
  readonly bySerial: ReadonlyMap<string, readonly Row<"teardowns">[]>;
  /** All findings of a teardown, for `caused_by`. */
  readonly findingsOf: ReadonlyMap<string, readonly Row<"findings">[]>;
  readonly notices: readonly LivesNotice[];
}

/**
 * The looks by the cut-off. A teardown looks at the items it writes down and at those in its scope.
 *
 * Conventions  "outside only" sees no hidden mode; a pressure test sees a hidden mode only where the item is written
 *              down. An item found at severity 5, or disposed of as destroyed, gives no clean look for other modes.
 */
export function itemLooks(records: Records, cutoffDay: number): Looks {
  const notices: LivesNotice[] = [];
  const findingsOf = new Map<string, Row<"findings">[]>();
  for (const finding of records.findings ?? []) push(findingsOf, finding.teardown, finding);
  const looks = new Map<string, ItemLook[]>();
  const bySerial = new Map<string, Row<"teardowns">[]>();
  const teardowns = [...(records.teardowns ?? [])].sort(
    (a, b) => compare(a.done_on, b.done_on) || compareNumbered(a.teardown, b.teardown),
  );

  for (const teardown of teardowns) {
    const row: RowRef = { table: "teardowns", key: keyOf("teardowns", teardown) };
    const day = dayOf(teardown.done_on);
    if (day > cutoffDay) {
      notices.push({
        code: "look-after-cutoff",
        facts: { teardown: teardown.teardown, serial: teardown.serial, on: teardown.done_on },
        rows: [row],
      });
      continue;
    }
    push(bySerial, teardown.serial, teardown);
    const findings = findingsOf.get(teardown.teardown) ?? [];
    const written = new Set(findings.map(({ item }) => item));
    for (const item of new Set([...written, ...(teardown.scope ?? [])])) {
      const own = findings
        .filter((finding) => finding.item === item)
        .sort((a, b) => compare(a.condition, b.condition) || (b.severity ?? 6) - (a.severity ?? 6));
      push(looks, `${teardown.serial}\u0000${item}`, {
        teardown,
        day,
        findings: own,
        how: written.has(item) ? "written" : "scope",
        seesHidden:
          teardown.kind === "outside only" ? false : teardown.kind === "pressure test" ? written.has(item) : true,
        destroyed: own.some(({ severity, disposition }) => severity === 5 || /destroyed/i.test(disposition ?? "")),
        rows: [row, ...own.map((finding) => ({ table: "findings" as const, key: keyOf("findings", finding) }))],
      });
    }
  }
  return { at: (serial, item) => looks.get(`${serial}\u0000${item}`) ?? [], bySerial, findingsOf, notices };
}
