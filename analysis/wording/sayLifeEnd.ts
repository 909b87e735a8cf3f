import type { LifeKind } from "../lives/types.ts";

const words: Readonly<Record<LifeKind, string>> = {
  exact: "failed, hour known",
  interval: "failed between two inspections",
  left: "found failed at the first inspection",
  right: "sound so far",
};

/** How a life ended, as far as is known. */
export const sayLifeEnd = ({ kind }: { readonly kind: LifeKind }): string => words[kind];
