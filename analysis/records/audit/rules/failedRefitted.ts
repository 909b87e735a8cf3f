import type { Row } from "../../descriptor.ts";
import { ownLooks, type Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";
import { failedFindings } from "../failedFindings.ts";
import { redressAfter } from "../redressAfter.ts";

/**
 * An item found failed that the next redress carries over: its mode is restored by a new item (or by making the joint
 * up) and the build sheet says neither. Until it is restored the mode adds nothing to any life.
 *
 * Source       Common practice, no source.
 * Cannot tell  A used but good item put in its place without its own serial; a finding graded too high.
 */
export const failedRefitted: Rule = (context) =>
  [...context.stories.values()].flatMap((story) =>
    ownLooks(context, story.looks).flatMap((look) => {
      const { teardown, day } = look;
      const redress = redressAfter(story, look);
      if (redress === undefined) return [];
      const fittedRows = context.fittedOf.get(redress.redress) ?? [];
      const last = story.redresses.filter((row) => row.day < day).at(-1)?.redress.redress ?? "";
      const before = context.fittedOf.get(last) ?? [];
      const madeUp = new Set((context.jointsOf.get(redress.redress) ?? []).map(({ joint }) => joint));
      return failedFindings(context, teardown).flatMap(({ finding, mode }) => {
        const fitted = fittedRows.find(({ item }) => item === finding.item);
        if (fitted === undefined || fitted.renewed || isAnother(fitted, before)) return [];
        if (mode.restored_by === "made up" && madeUp.has(finding.item)) return [];
        return [
          doubt("failed item refitted", "findings", finding, "severity", {
            others: [refOf("fitted_items", fitted)],
            facts: {
              teardown: teardown.teardown,
              serial: story.serial,
              item: finding.item,
              mode: finding.condition,
              severity: finding.severity ?? null,
              redress: redress.redress,
              restored_by: mode.restored_by,
            },
          }),
        ];
      });
    }),
  );

/** Another item by its serial, not the one found failed. */
function isAnother(fitted: Row<"fitted_items">, before: readonly Row<"fitted_items">[]): boolean {
  const old = before.find(({ item }) => item === fitted.item)?.item_serial;
  return old != null && fitted.item_serial != null && old !== fitted.item_serial;
}
