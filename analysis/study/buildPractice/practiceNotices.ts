import { derivationNotices } from "../notices.ts";
import type { ShopData, StudyContext } from "../shopData.ts";
import type { Notice, StudyDefinition } from "../types.ts";
import type { PracticeComparison } from "./types.ts";

/** Share of lives without the practice written, above which it is told. */
const MUCH_MISSING = 0.1;

/** What a reader must know beside the comparisons. */
export function practiceNotices({
  definition,
  data,
  context,
  comparisons,
  tested,
}: {
  readonly definition: StudyDefinition;
  readonly data: ShopData;
  readonly context: StudyContext;
  readonly comparisons: readonly PracticeComparison[];
  readonly tested: number;
}): Notice[] {
  const linked = [
    ...new Map(
      comparisons.filter(({ leadsTo }) => leadsTo !== null).map((one) => [`${one.item}${one.mode}`, one]),
    ).values(),
  ];
  return [
    ...(tested > 0 ? [{ code: "many-comparisons" as const, facts: { tested } }] : []),
    ...notWritten(comparisons),
    ...linked.map(({ item, mode, leadsTo }) => ({
      code: "linked-comparison" as const,
      facts: { item, mode, failure: leadsTo },
    })),
    ...derivationNotices(data, definition, context),
  ];
}

/** One a practice: where it is missing most. */
function notWritten(comparisons: readonly PracticeComparison[]): Notice[] {
  const worst = new Map<string, { title: string; missing: number; lives: number }>();
  for (const { title, lives, notWritten: blank, writtenAsText, inDoubt } of comparisons) {
    const missing = blank.lives + writtenAsText.lives + inDoubt.lives;
    const before = worst.get(title);
    if (before === undefined || missing > before.missing) worst.set(title, { title, missing, lives: lives + missing });
  }
  return [...worst.values()]
    .filter(({ missing, lives }) => missing > MUCH_MISSING * lives)
    .map(({ title, missing, lives }) => ({
      code: "practice-not-written" as const,
      facts: { practice: title, missing, lives },
    }));
}
