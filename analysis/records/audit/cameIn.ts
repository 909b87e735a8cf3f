import type { Row } from "../descriptor.ts";
import type { AuditContext } from "./auditContext.ts";

/** Runs that came in, with the number of dates they were out on: 1 where out and in are one date. */
export function cameIn({ stories }: AuditContext): readonly { readonly run: Row<"runs">; readonly days: number }[] {
  return [...stories.values()].flatMap(({ runs }) =>
    runs.flatMap(({ run, outDay, inDay }) => (inDay === null ? [] : [{ run, days: inDay - outDay + 1 }])),
  );
}
