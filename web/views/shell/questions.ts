import type { ViewName } from "../../state/place.ts";

/** The questions at the side. A view is in this list only when it works. */
export const questions: readonly { readonly view: ViewName; readonly name: string; readonly asks: string }[] = [
  { view: "what-fails", name: "What fails", asks: "and where in the tool" },
  { view: "item-life", name: "Item life", asks: "how long each item lasts" },
  { view: "practice", name: "Build practice", asks: "what in the build makes the difference" },
  { view: "tool-history", name: "Tool history", asks: "the story of one serial" },
  { view: "interval", name: "Redress interval", asks: "when to redress, and at what risk" },
  { view: "fleet", name: "Fleet", asks: "which tool may go out" },
  { view: "statement", name: "Customer statement", asks: "what may honestly be claimed" },
  { view: "records", name: "Records", asks: "what is under the answers" },
];
