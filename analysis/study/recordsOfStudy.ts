import { auditRecords } from "../records/audit/auditRecords.ts";
import { recordsWithout } from "../records/audit/recordsWithout.ts";
import type { Answer, AuditRow } from "../records/audit/types.ts";
import type { Records } from "../records/descriptor.ts";
import type { StudyDefinition } from "./types.ts";

const openRows = new WeakMap<Records, readonly AuditRow[]>();
const withoutOpen = new WeakMap<Records, Records>();

/**
 * The doubts about records that nobody has settled. Worked out once for the same records object.
 *
 * @param records  With every answer applied that still stands.
 * @param answers  Those that the records were audited with and that no later one stands for: an accepted doubt is not open.
 */
export function openDoubts(records: Records, answers: readonly Answer[]): readonly AuditRow[] {
  const known = openRows.get(records);
  if (known !== undefined) return known;
  // Corrections are in the records already; only what was accepted still has a say.
  const rows = auditRecords(records, { answers: answers.filter(({ verdict }) => verdict === "accept") });
  openRows.set(records, rows);
  return rows;
}

/** The records that a study runs on: all of them, or those without what is in doubt. The same object each time. */
export function recordsOfStudy(
  { openAudit = "used" }: Pick<StudyDefinition, "openAudit">,
  records: Records,
  answers: readonly Answer[],
): Records {
  if (openAudit === "used") return records;
  const known = withoutOpen.get(records);
  if (known !== undefined) return known;
  const without = recordsWithout(records, openDoubts(records, answers));
  withoutOpen.set(records, without);
  return without;
}
