import type { Row } from "../records/descriptor.ts";
import { type Exposure, exposureOf } from "./exposure.ts";
import { inScope, type ShopData } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

/** Hours under observation and failures of one mode of one item, dates not yet applied. */
export interface ExposureGroup {
  readonly toolType: string;
  readonly item: string;
  readonly kind: Row<"tool_items">["kind"];
  readonly position: number | null;
  readonly mode: string;
  readonly announces: "evident" | "hidden";
  readonly exposures: readonly Exposure[];
}

/** Exposure of every mode of every item in scope, dates not yet applied. Modes that never ran have none. */
export function exposureGroups(data: ShopData, { scope }: StudyDefinition): ExposureGroup[] {
  const wanted = { ...scope, from: null, to: null };
  const lives = new Map<string, Exposure[]>();
  const announcesOf = new Map<string, "evident" | "hidden">();
  const items = data.items.filter(
    (item) =>
      (scope.toolType === null || item.tool_type === scope.toolType) &&
      (scope.item === null || item.item === scope.item),
  );
  for (const { tool_type, item } of items) {
    for (const { mode, announces } of data.modesOf(tool_type, item))
      announcesOf.set(`${tool_type}\u0000${item}\u0000${mode}`, announces);
  }
  for (const life of data.derived.lives) {
    const key = `${life.toolType}\u0000${life.item}\u0000${life.mode}`;
    const announces = announcesOf.get(key);
    if (announces === undefined || !inScope(wanted, life)) continue;
    const list = lives.get(key) ?? [];
    list.push(exposureOf(life, announces, data));
    lives.set(key, list);
  }
  return items.flatMap(({ tool_type, item, kind, position }) =>
    data.modesOf(tool_type, item).flatMap(({ mode, announces }): ExposureGroup[] => {
      const exposures = lives.get(`${tool_type}\u0000${item}\u0000${mode}`);
      return exposures
        ? [{ toolType: tool_type, item, kind, position: position ?? null, mode, announces, exposures }]
        : [];
    }),
  );
}
