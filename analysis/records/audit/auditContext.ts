import type { Records, Row } from "../descriptor.ts";
import { type AuditShop, auditShop, type ShopLook } from "./auditShop.ts";
import { compareNumbers } from "./inOrder.ts";
import { type RunPair, runPairs } from "./runPairs.ts";
import { type StrayTeardown, strayTeardowns } from "./strayTeardowns.ts";
import type { AuditRow } from "./types.ts";

/** What every rule reads. */
export interface AuditContext extends AuditShop {
  readonly pairs: readonly RunPair[];
  /** By teardown number. */
  readonly strays: ReadonlyMap<string, StrayTeardown>;
  /** Looks and redresses of all tools in order of time; on one date looks first. */
  readonly benchEvents: readonly BenchEvent[];
}

export type BenchEvent =
  | { readonly at: "look"; readonly serial: string; readonly day: number; readonly look: Row<"teardowns"> }
  | { readonly at: "redress"; readonly serial: string; readonly day: number; readonly redress: Row<"redresses"> };

export type Rule = (context: AuditContext) => readonly AuditRow[];

export function auditContext(records: Records): AuditContext {
  const shop = auditShop(records);
  const strays = new Map(strayTeardowns(shop).map((stray) => [stray.teardown.teardown, stray]));
  const events: (BenchEvent & { readonly number: string })[] = [];
  for (const { serial, looks, redresses } of shop.stories.values()) {
    for (const { stripped, day, teardown } of looks)
      if (stripped) events.push({ at: "look", serial, day, look: teardown, number: teardown.teardown });
    for (const { day, redress } of redresses)
      events.push({ at: "redress", serial, day, redress, number: redress.redress });
  }
  events.sort(
    (a, b) =>
      a.day - b.day || Number(a.at === "redress") - Number(b.at === "redress") || compareNumbers(a.number, b.number),
  );
  return { ...shop, pairs: runPairs(shop), strays, benchEvents: events };
}

/** Looks that took a tool apart, without those suspected to be another tool's. */
export const ownLooks = (context: AuditContext, looks: readonly ShopLook[]): readonly ShopLook[] =>
  looks.filter((look) => look.stripped && !context.strays.has(look.teardown.teardown));
