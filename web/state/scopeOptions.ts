import type { Scope, ScopeChoices } from "../../analysis/index.ts";

export interface ItemOption {
  readonly item: string;
  readonly modes: readonly string[];
}

/** Items on offer under a tool type (or all), each once, in the order of the tool, with every mode of its name. */
export function itemOptions(choices: ScopeChoices, toolType: string | null): readonly ItemOption[] {
  const found = new Map<string, Set<string>>();
  for (const type of choices.toolTypes) {
    if (toolType !== null && type.toolType !== toolType) continue;
    for (const { item, modes } of inOrder(type.items)) {
      const known = found.get(item) ?? new Set<string>();
      for (const mode of modes) known.add(mode);
      found.set(item, known);
    }
  }
  return [...found].map(([item, modes]) => ({ item, modes: [...modes] }));
}

/** Modes on offer: of the item, or of every item where none is chosen. */
export function modeOptions(
  choices: ScopeChoices,
  { toolType, item }: Pick<Scope, "toolType" | "item">,
): readonly string[] {
  const items = itemOptions(choices, toolType).filter((option) => item === null || option.item === item);
  return [...new Set(items.flatMap((option) => option.modes))].sort((a, b) => a.localeCompare(b, "en"));
}

/** Sizes on offer, ascending. */
export function sizeOptions(choices: ScopeChoices, toolType: string | null): readonly number[] {
  const sizes = choices.toolTypes
    .filter((type) => toolType === null || type.toolType === toolType)
    .flatMap((type) => type.sizesIn);
  return [...new Set(sizes)].sort((a, b) => a - b);
}

/** A scope after one change: narrower choices that no longer exist under it fall away. */
export function scopeAfter(choices: ScopeChoices, scope: Scope, change: Partial<Scope>): Scope {
  const next = { ...scope, ...change };
  const sizeIn = next.sizeIn !== null && sizeOptions(choices, next.toolType).includes(next.sizeIn) ? next.sizeIn : null;
  const item = itemOptions(choices, next.toolType).some((option) => option.item === next.item) ? next.item : null;
  const mode = next.mode !== null && modeOptions(choices, { ...next, item }).includes(next.mode) ? next.mode : null;
  return { ...next, sizeIn, item, mode };
}

function inOrder<T extends { readonly position: number | null }>(items: readonly T[]): readonly T[] {
  return [...items].sort((a, b) => (a.position ?? Number.MAX_VALUE) - (b.position ?? Number.MAX_VALUE));
}
