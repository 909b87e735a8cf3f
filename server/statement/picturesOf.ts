import type { StatementDocument, StatementPicture, StatementTable } from "../../analysis/index.ts";

/** Every picture of a statement, in order. */
export const picturesOf = ({ sections }: StatementDocument): readonly StatementPicture[] =>
  sections.flatMap(({ blocks }) => blocks.filter((block): block is StatementPicture => block.kind === "picture"));

/** Every table of a statement, in order. */
export const tablesOf = ({ sections }: StatementDocument): readonly StatementTable[] =>
  sections.flatMap(({ blocks }) => blocks.filter((block): block is StatementTable => block.kind === "table"));
