import { renderToString } from "preact-render-to-string";
import type { StatementDocument, StatementResult } from "../../analysis/index.ts";
import { drawPicture } from "./drawPicture.tsx";
import { fontFaces } from "./fonts.ts";
import type { StatementIssue } from "./issue.ts";
import { StatementPage } from "./page/StatementPage.tsx";
import { picturesOf } from "./picturesOf.ts";

const width = 850;

/** The statement as the text of one self-contained HTML file. */
export async function writePage(
  document: StatementDocument,
  statement: StatementResult,
  issue: StatementIssue,
): Promise<string> {
  const pictures = new Map(
    picturesOf(document).map((picture) => [picture.id, drawPicture(picture, statement, { width })]),
  );
  const faces = await fontFaces();
  return `<!doctype html>${renderToString(<StatementPage {...{ document, issue, pictures }} fontFaces={faces} />)}`;
}
