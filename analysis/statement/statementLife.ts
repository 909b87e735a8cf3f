import { highOf, lowOf } from "../lives/age.ts";
import { contentHash } from "../study/contentHash.ts";
import type { ItemLifeResult } from "../study/types.ts";
import type { StatementLife } from "./types.ts";

/** What may be said of how long an item lasts: nothing beyond the longest life followed. */
export function statementLife(result: ItemLifeResult): StatementLife {
  const { counts, readings, longestAge, histories } = result;
  const { lives, failures, right, noInformation, excluded } = counts;
  const beyond = readings.statedAge > longestAge;
  const { reliability } = readings;
  const failed = histories.filter(({ kind }) => kind !== "right");
  const middles = failed.map(({ lower, upper }) => {
    const end = upper ?? lower;
    return (lowOf(lower) + highOf(lower) + lowOf(end) + highOf(end)) / 4;
  });
  return {
    counts: { lives, failures, right, noInformation, excluded },
    age: readings.statedAge,
    survival: beyond ? null : reliability,
    beyondExperience: beyond ? reliability.value : null,
    longestAge,
    b10: readings.b10,
    median: readings.median,
    failedAlone: middles.length === 0 ? null : middles.reduce((sum, age) => sum + age, 0) / middles.length,
    result: resultHash(result),
  };
}

/** Names a result: which question of which data with which engine. Printed beside every figure that comes from it. */
export function resultHash({ provenance }: Pick<ItemLifeResult, "provenance">): string {
  return contentHash(provenance).slice(0, 12);
}
