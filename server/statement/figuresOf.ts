import { type Figure, type Inline, isFigure, plainText, type StatementDocument } from "../../analysis/index.ts";

/** A figure said in a sentence, and where. */
export interface SaidFigure extends Figure {
  readonly section: string;
  readonly sentence: string;
}

/** Every figure that a sentence of the statement says, in order: numbers, the results they come from, the sentence. */
export function figuresOf({ summary, sections }: StatementDocument): readonly SaidFigure[] {
  const of = (section: string, texts: readonly Inline[]): SaidFigure[] =>
    texts.flatMap((text) =>
      text.flatMap((part) =>
        typeof part !== "string" && isFigure(part) ? [{ ...part, section, sentence: plainText(text) }] : [],
      ),
    );
  return [
    ...of("In short", summary),
    ...sections.flatMap(({ title, blocks }) =>
      blocks.flatMap((block) => {
        if (block.kind === "paragraph") return of(title, [block.text]);
        return block.kind === "list" || block.kind === "caution" ? of(title, block.items) : [];
      }),
    ),
  ];
}
