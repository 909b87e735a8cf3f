import type { Life } from "../../lives/types.ts";
import { begunWith, betweenDates, inScope, type ShopData } from "../shopData.ts";
import type { Scope } from "../types.ts";
import type { ModeLives } from "./modeTable.ts";

/**
 * The lives in scope by failure mode as the shop lists it: a mode listed for a kind of item (back-off of joints) takes all of
 * its items together, so that ten failures on three joints are thirty. In the order of the list of modes.
 */
export function modeGroups(data: ShopData, scope: Scope): ModeLives[] {
  const kinds = new Map(data.items.map(({ tool_type, item, kind }) => [JSON.stringify([tool_type, item]), kind]));
  const rows = data.records.modes ?? [];
  const groups = new Map<string, ModeLives & { lives: Life[] }>();
  const order = new Map(rows.map(({ item, mode }, index) => [JSON.stringify([item, mode]), index]));
  // The failure that a chosen defect leads to is needed to fit the defect.
  const wide = { ...scope, mode: null };
  for (const life of data.derived.lives) {
    if (!inScope(wide, life) || !betweenDates(scope.from, scope.to, life.sinceOn)) continue;
    if (!begunWith(data, scope.customer, life.runs)) continue;
    const kind = kinds.get(JSON.stringify([life.toolType, life.item]));
    if (kind === undefined) continue;
    const item = order.has(JSON.stringify([life.item, life.mode])) ? life.item : kind;
    const key = JSON.stringify([item, life.mode]);
    const group = groups.get(key) ?? { item, mode: life.mode, kind, lives: [] };
    groups.set(key, group);
    group.lives.push(life);
  }
  return [...groups]
    .sort(([a], [b]) => (order.get(a) ?? 1e9) - (order.get(b) ?? 1e9) || (a < b ? -1 : 1))
    .map(([, group]) => group);
}
