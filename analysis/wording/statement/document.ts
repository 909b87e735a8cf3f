/** A statement in words: what every medium (page, paper, slides, sheets) is made from. Plain data; nothing is computed after it. */

/** A number in a sentence: as it is said, as it is, and the result it comes from. */
export interface Figure {
  readonly text: string;
  readonly value: number | null;
  readonly result: string;
}
export type Inline = readonly (string | Figure)[];

export interface StatementColumn {
  readonly title: string;
  readonly kind: "text" | "number";
}

/** A text, or a number with the way it is said. A number that is not there is null, with words for why. */
export type StatementCell = string | { readonly value: number | null; readonly text: string };

export interface StatementTable {
  readonly kind: "table";
  readonly id: string;
  readonly title: string;
  readonly columns: readonly StatementColumn[];
  readonly rows: readonly (readonly StatementCell[])[];
  readonly note: string | null;
  readonly result: string;
}

/** A picture of a result of the statement, drawn by the same chart as on screen. */
export interface StatementPicture {
  readonly kind: "picture";
  readonly id: string;
  readonly draws: "rates" | "over time" | "survival" | "comparisons";
  /** Of `pictures.lives`, where a survival is drawn. */
  readonly index: number;
  readonly finding: string;
  readonly result: string;
}

export type StatementBlock =
  | { readonly kind: "paragraph"; readonly text: Inline }
  | { readonly kind: "list"; readonly items: readonly Inline[] }
  | { readonly kind: "caution"; readonly title: string; readonly items: readonly Inline[] }
  | StatementTable
  | StatementPicture;

export interface StatementSection {
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly StatementBlock[];
}

export interface StatementDocument {
  readonly title: string;
  readonly subtitle: string;
  /** For a reader with two minutes. */
  readonly summary: readonly Inline[];
  readonly sections: readonly StatementSection[];
  readonly contentHash: string;
  readonly dataHash: string;
  readonly engineVersion: string;
  /** Printed on every page: invented data say so. */
  readonly marking: string | null;
}

/** A sentence with figures in it: say`${figure} of ${other}`. */
export function say(texts: TemplateStringsArray, ...parts: readonly (string | number | Figure | Inline)[]): Inline {
  const out: (string | Figure)[] = [];
  const add = (one: string | Figure): void => {
    const last = out.at(-1);
    if (typeof one === "string" && typeof last === "string") out[out.length - 1] = last + one;
    else if (one !== "") out.push(one);
  };
  texts.forEach((text, index) => {
    add(text);
    const part = parts[index];
    if (typeof part === "string" || typeof part === "number") add(String(part));
    else if (part !== undefined) for (const one of isFigure(part) ? [part] : part) add(one);
  });
  return out;
}

export const isFigure = (one: string | Figure | Inline): one is Figure => typeof one === "object" && "result" in one;

/** A sentence as plain text. */
export const plainText = (text: Inline): string =>
  text.map((one) => (typeof one === "string" ? one : one.text)).join("");
