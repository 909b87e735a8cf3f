import type { Life } from "../lives/types.ts";
import { keyOf, type Row } from "../records/descriptor.ts";
import { serialsOfScope } from "../study/countedRuns.ts";
import { betweenDates, type ShopData } from "../study/shopData.ts";
import type { Scope } from "../study/types.ts";
import type { StatementMode } from "./types.ts";

/** What the shop has found out about why, by mode. */
export function causesOf(
  data: ShopData,
  scope: Scope,
): (item: string, mode: string, failed: readonly Life[]) => StatementMode["causes"] {
  const findings = new Map((data.records.findings ?? []).map((row) => [keyOf("findings", row), row]));
  const serials = serialsOfScope(data, scope);
  const teardowns = new Map((data.records.teardowns ?? []).map((row) => [row.teardown, row]));
  const inPeriod = ({ teardown: name }: Row<"findings">): boolean => {
    const teardown = teardowns.get(name);
    return (
      teardown !== undefined && serials.has(teardown.serial) && betweenDates(scope.from, scope.to, teardown.done_on)
    );
  };
  const consequences = (data.records.findings ?? []).filter((row) => row.caused_by != null && inPeriod(row));

  return (item, mode, failed) => {
    const counts = new Map<string, number>();
    let notDetermined = 0;
    for (const { rows } of failed) {
      const cause = rows
        .filter(({ table }) => table === "findings")
        .map(({ key }) => findings.get(key))
        .findLast((row) => row?.item === item && row.condition === mode)?.cause;
      if (cause == null || cause.trim() === "" || cause === "not yet determined") notDetermined++;
      else counts.set(cause, (counts.get(cause) ?? 0) + 1);
    }
    return {
      notDetermined,
      known: [...counts]
        .map(([cause, count]) => ({ cause, count }))
        .sort((a, b) => b.count - a.count || (a.cause < b.cause ? -1 : 1)),
      consequences: consequences.filter((row) => row.item === item && row.condition === mode).length,
    };
  };
}
