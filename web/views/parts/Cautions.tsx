import { type CautionKind, sayCautions } from "../../../analysis/index.ts";

/** Stands at the foot wherever a number could move an interval, a seal choice, a torque or a dispatch. */
export const Cautions = ({ kinds }: { readonly kinds: readonly CautionKind[] }) => (
  <p class="cautions">{[...new Set(kinds.flatMap(sayCautions))].join(" ")}</p>
);
