/** What a mark of a chart stands for, read back from the attributes that charts write. */
import { type RowRef, type TableName, tableNames } from "../../../analysis/index.ts";

export interface Mark {
  readonly says: string;
  readonly lifeIds: readonly string[];
  readonly row: RowRef | null;
  readonly toolType: string | null;
  readonly item: string | null;
  readonly mode: string | null;
  /** A comparison of build practice, as JSON. */
  readonly practice: string | null;
}

export const markElement = (element: Element): Element | null => element.closest("[data-mark]");
export const marksOf = (area: Element): readonly Element[] => [...area.querySelectorAll("[data-mark]")];

/** The same words for hover, keyboard and screen reader. */
export const readOutOf = (mark: Element): string => mark.getAttribute("aria-label") ?? "";

/** The mark at an element or around it; null where there is none. */
export function markAt(element: Element): Mark | null {
  const mark = markElement(element);
  if (mark === null) return null;
  return {
    says: readOutOf(mark),
    lifeIds: livesOf(mark),
    row: rowOf(mark.getAttribute("data-row") ?? ""),
    toolType: mark.getAttribute("data-type"),
    item: mark.getAttribute("data-item"),
    mode: mark.getAttribute("data-mode"),
    practice: mark.getAttribute("data-practice"),
  };
}

function livesOf(mark: Element): readonly string[] {
  const one = mark.getAttribute("data-life");
  if (one !== null) return [one];
  const several = mark.getAttribute("data-lives");
  if (several === null) return [];
  const ids: unknown = JSON.parse(several);
  return Array.isArray(ids) ? ids.map(String) : [];
}

function rowOf(text: string): RowRef | null {
  const cut = text.indexOf(":");
  const table = tableNames.find((name): name is TableName => name === text.slice(0, cut));
  return table === undefined ? null : { table, key: text.slice(cut + 1) };
}
