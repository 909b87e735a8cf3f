import type { Row } from "../../descriptor.ts";
import type { AuditContext } from "../auditContext.ts";
import { ownLooks, type Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";

/** Sound items written down less often than this. Common practice, no source. */
const LIMIT = 0.8;
const MIN_LOOKS = 20;

/**
 * Sound looks rarely written, by technician and year: of the items on the checklist in which nothing was found, fewer
 * than 80 % have "sound" written down. Where no checklist is written, the share of teardowns with any "sound" in them.
 * Where good news goes unwritten, a rate a look counts too few looks, and a change of habit looks like a change of life.
 *
 * One row a technician and year: the earliest such teardown, the others beside it.
 *
 * Cannot tell  An item on the checklist that was not opened from one that was sound and not written.
 */
export const soundUnwritten: Rule = (context) => {
  const groups = new Map<string, { readonly technician: string; readonly year: string; readonly looks: Counted[] }>();
  for (const { looks } of context.stories.values()) {
    for (const { teardown } of ownLooks(context, looks)) {
      const technician = teardown.technician ?? "not written";
      const year = teardown.done_on.slice(0, 4);
      const key = JSON.stringify([technician, year]);
      const group = groups.get(key) ?? { technician, year, looks: [] };
      group.looks.push({ teardown, ...counts(context, teardown) });
      groups.set(key, group);
    }
  }
  return [...groups.values()].flatMap(({ technician, year, looks }) => {
    const expected = looks.reduce((sum, look) => sum + look.expected, 0);
    const written = looks.reduce((sum, look) => sum + look.written, 0);
    if (expected < MIN_LOOKS || written / expected >= LIMIT) return [];
    const [first, ...rest] = looks
      .filter((look) => look.written < look.expected)
      .sort((a, b) => (a.teardown.done_on < b.teardown.done_on ? -1 : a.teardown.done_on > b.teardown.done_on ? 1 : 0));
    if (first === undefined) return [];
    return [
      doubt("sound looks rarely written", "teardowns", first.teardown, null, {
        group: `technician: ${technician}, ${year}`,
        others: rest.map(({ teardown }) => refOf("teardowns", teardown)),
        facts: { technician, year, written, expected, limit: LIMIT },
      }),
    ];
  });
};

interface Counted {
  readonly teardown: Row<"teardowns">;
  readonly expected: number;
  readonly written: number;
}

function counts({ findingsOf }: AuditContext, teardown: Row<"teardowns">): Pick<Counted, "expected" | "written"> {
  const findings = findingsOf.get(teardown.teardown) ?? [];
  const sound = new Set(findings.flatMap(({ item, condition }) => (condition === "sound" ? [item] : [])));
  if (teardown.scope == null) return { expected: 1, written: sound.size > 0 ? 1 : 0 };
  const bad = new Set(findings.flatMap(({ item, condition }) => (condition === "sound" ? [] : [item])));
  const good = [...new Set(teardown.scope)].filter((item) => !bad.has(item));
  return { expected: good.length, written: good.filter((item) => sound.has(item)).length };
}
