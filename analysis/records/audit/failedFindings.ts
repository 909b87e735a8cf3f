import type { Row } from "../descriptor.ts";
import type { AuditShop } from "./auditShop.ts";

/** Findings of a teardown at or above their mode's threshold; a severity not written down counts as failed. */
export function failedFindings(
  { findingsOf, modeOf }: AuditShop,
  teardown: Row<"teardowns">,
): readonly { readonly finding: Row<"findings">; readonly mode: Row<"modes"> }[] {
  return (findingsOf.get(teardown.teardown) ?? []).flatMap((finding) => {
    const mode = modeOf(teardown.serial, finding.item, finding.condition);
    return mode !== null && (finding.severity ?? mode.threshold) >= mode.threshold ? [{ finding, mode }] : [];
  });
}
