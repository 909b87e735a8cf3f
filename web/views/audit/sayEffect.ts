import { type AnswersPreview, countOf } from "../../../analysis/index.ts";

/** "Changes 20 cells and 55 lives; 20 doubts fewer." What answers would change, before they are given. */
export function sayEffect({ cells, rowsLeftOut, doubts, lives, notApplied, hanging }: AnswersPreview): string {
  const changes = [
    ...(cells === 0 ? [] : [countOf(cells, "cell")]),
    ...(lives === null || lives.changed === 0 ? [] : [countOf(lives.changed, "life", "lives")]),
  ];
  const sentences = [
    ...(changes.length === 0 ? [] : [`Changes ${changes.join(" and ")}.`]),
    ...(rowsLeftOut === 0 ? [] : [`Leaves ${countOf(rowsLeftOut, "row")} out.`]),
    ...(lives === null || lives.gone === 0 ? [] : [`${countOf(lives.gone, "life", "lives")} fewer.`]),
    ...(lives === null || lives.added === 0 ? [] : [`${countOf(lives.added, "life", "lives")} more.`]),
    ...(hanging === 0 ? [] : [`${countOf(hanging, "row")} that belong to them will be used by no life.`]),
    ...(notApplied === 0 ? [] : [`${countOf(notApplied, "answer")} would not fit: the row says something else now.`]),
  ];
  const fewer = doubts.before - doubts.after;
  const rest =
    fewer > 0
      ? `${countOf(fewer, "doubt")} fewer.`
      : fewer < 0
        ? `${countOf(-fewer, "doubt")} more: what it becomes is doubted too.`
        : "The number of doubts stays.";
  return [...(sentences.length === 0 ? ["No value and no life changes."] : sentences), rest].join(" ");
}
