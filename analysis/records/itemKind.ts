import { canonicalItem } from "./canonicalItem.ts";
import type { ItemKind } from "./modeCatalogue.ts";

const kinds: readonly (readonly [ItemKind, RegExp])[] = [
  ["joint", /^j\d+$|joint|connection|verbindung/],
  ["pin", /\bpins?\b|stift|bolzen/],
  ["guide", /guide|band|wear ring|bearing|führung|bush/],
  ["stack", /stack|packing|element|paket|bellows/],
  ["seal", /seal|o ring|oring|t ring|lip|wiper|gasket|dichtung|packer/],
  ["body", /mandrel|body|housing|sub\b|barrel|piston|shaft|cylinder|gehäuse|welle|spindel/],
];

/** The kind an item's name speaks for, or null where it says none. */
export function itemKind(item: string): ItemKind | null {
  const name = canonicalItem(item).toLowerCase();
  return kinds.find(([, words]) => words.test(name))?.[0] ?? null;
}
