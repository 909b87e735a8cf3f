import type { Row } from "../descriptor.ts";
import { type AuditContext, ownLooks } from "./auditContext.ts";
import type { ShopLook, ToolStory } from "./auditShop.ts";

/**
 * Runs that came in since the redress before a look, or since the look before it where that was later (a second look, or
 * a build sheet missing in between). On one date: run in, teardown, redress.
 */
export function runsBefore(
  context: AuditContext,
  { runs, redresses, looks }: ToolStory,
  { day }: ShopLook,
): readonly Row<"runs">[] {
  const built = redresses.filter((row) => row.day < day).at(-1)?.day ?? -Infinity;
  const earlier = looks.filter((look) => look.day < day);
  const opened = ownLooks(context, earlier).at(-1)?.day ?? -Infinity;
  return runs.flatMap(({ run, inDay }) =>
    inDay !== null && inDay >= built && inDay > opened && inDay <= day ? [run] : [],
  );
}
