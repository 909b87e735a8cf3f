import type { Content, StyleDictionary, TDocumentDefinitions } from "pdfmake/interfaces.js";
import {
  type Inline,
  plainText,
  type StatementBlock,
  type StatementDocument,
  type StatementResult,
} from "../../analysis/index.ts";
import { drawPicture } from "./drawPicture.tsx";
import { fontFiles } from "./fonts.ts";
import type { StatementIssue } from "./issue.ts";
import { keepTogether } from "./keepTogether.ts";
import { pdfTable } from "./pdfTable.ts";
import { sayIssue } from "./sayIssue.ts";

/** Width between the margins of a page of A4, in points, and the width in px at which pictures are drawn for it. */
const textWidth = 495;
/** A heading, and the line under a picture, must find room on its page. */
const tallestPicture = 640;
const pictureWidth = 760;

/**
 * The statement as a PDF: pictures as vectors, the typeface embedded, a list of contents, page numbers. Nothing rests on
 * colour alone, so it can be printed in grey.
 */
export async function writePdf(
  document: StatementDocument,
  statement: StatementResult,
  issue: StatementIssue,
): Promise<Uint8Array> {
  // Loaded when asked for: most starts of the program write no PDF.
  const { default: pdfmake } = await import("pdfmake");
  const own = Object.values(fontFiles);
  pdfmake.setLocalAccessPolicy((path) => own.includes(path));
  pdfmake.setUrlAccessPolicy(() => false);
  pdfmake.setFonts({
    "Source Sans 3": {
      normal: fontFiles.regular,
      bold: fontFiles.semibold,
      italics: fontFiles.regular,
      bolditalics: fontFiles.semibold,
    },
  });
  return new Uint8Array(await pdfmake.createPdf(layOut(document, statement, issue)).getBuffer());
}

function layOut(document: StatementDocument, statement: StatementResult, issue: StatementIssue): TDocumentDefinitions {
  const { title, subtitle, summary, sections, marking, contentHash } = document;
  return {
    pageSize: "A4",
    pageMargins: [50, 48, 50, 56],
    language: "en",
    displayTitle: true,
    info: { title: `${title}: ${subtitle}`, creator: "Afterrun", producer: "Afterrun" },
    defaultStyle: { font: "Source Sans 3", fontSize: 10, lineHeight: 1.15, color: "#1E2326" },
    styles,
    footer: (page, pages) => ({
      margin: [50, 14, 50, 0],
      fontSize: 8,
      color: "#5C6165",
      columns: [
        {
          text: [marking, footState(issue), `content ${contentHash.slice(0, 16)}`].filter(Boolean).join(" · "),
          width: "*",
        },
        { text: `Page ${page} of ${pages}`, width: "auto", alignment: "right" },
      ],
    }),
    content: [
      { text: title, style: "title" },
      { text: subtitle, style: "subtitle" },
      ...(marking === null
        ? []
        : [{ text: marking, bold: true, margin: [0, 0, 0, 4] as [number, number, number, number] }]),
      boxed([{ text: sayIssue(issue), bold: true }]),
      { text: "In short", style: "h2" },
      bullets(summary),
      { stack: [{ toc: { title: { text: "Contents", style: "h2" } } }], unbreakable: true },
      ...sections.flatMap(({ title: name, blocks }): Content[] => {
        const heading = { text: name, style: "h2", tocItem: true };
        const [first = [], ...rest] = blocks.map((block) => blockContent(block, statement));
        // What is not broken takes its heading along.
        if (blocks[0] !== undefined && isWhole(blocks[0]))
          return [{ stack: [heading, ...first], unbreakable: true }, ...rest.flat()];
        return [heading, ...first, ...rest.flat()];
      }),
      ...(issue.changes.length === 0
        ? []
        : [
            { text: "What changed since the last statement", style: "h2", tocItem: true },
            bullets(issue.changes.map((change) => [change])),
          ]),
    ],
    // A heading never stands alone at the foot of a page: below this there is no room for what it heads.
    pageBreakBefore: ({ style, startPosition }) => style === "h2" && startPosition.top > LAST_HEADING,
  };
}

/** Points from the top of a page, for a heading with the first rows of a table. */
const LAST_HEADING = 640;

/** Rows of a table that is not broken over pages. */
const LONGEST_WHOLE = 12;

const styles: StyleDictionary = {
  title: { fontSize: 21, bold: true },
  subtitle: { fontSize: 12, color: "#5C6165", margin: [0, 0, 0, 6] },
  h2: { fontSize: 14, bold: true, margin: [0, 14, 0, 4] },
  h3: { fontSize: 10.5, bold: true, margin: [0, 2, 0, 2] },
  tableTitle: { fontSize: 10, bold: true, margin: [0, 6, 0, 2] },
  note: { fontSize: 8.5, color: "#5C6165", margin: [0, 2, 0, 0] },
  from: { fontSize: 8, color: "#5C6165", margin: [0, 1, 0, 8] },
};

const footState = ({ state, number, version }: StatementIssue): string =>
  state === "preview" ? "Preview" : `Statement ${number}, version ${version}${state === "draft" ? ", DRAFT" : ""}`;

function blockContent(block: StatementBlock, statement: StatementResult): Content[] {
  switch (block.kind) {
    case "paragraph":
      return [{ text: keepTogether(plainText(block.text)), margin: [0, 0, 0, 5] }];
    case "list":
      return [bullets(block.items)];
    case "caution":
      return [boxed([{ text: block.title, style: "h3" }, ...block.items.map((item) => bullets([item], 0))])];
    case "table":
      return [isWhole(block) ? { stack: [pdfTable(block)], unbreakable: true } : pdfTable(block)];
    case "picture":
      return [
        {
          stack: [
            {
              svg: forPaper(drawPicture(block, statement, { width: pictureWidth })),
              fit: [textWidth, tallestPicture],
              margin: [0, 4, 0, 0],
            },
            { text: `Result ${block.result}`, style: "from" },
          ],
          unbreakable: true,
        },
      ];
  }
}

const bullets = (items: readonly Inline[], below = 6): Content => ({
  ul: items.map((text) => ({ text: keepTogether(plainText(text)), margin: [0, 0, 0, 2] })),
  margin: [0, 0, 0, below],
});

/** Pictures and short tables stand on one page. */
const isWhole = (block: StatementBlock): boolean =>
  block.kind === "picture" || (block.kind === "table" && block.rows.length <= LONGEST_WHOLE);

/** A rule at the left, as tone alone would be lost in grey. No part is broken, and the first takes the second along. */
const boxed = ([first = "", second = [], ...rest]: Content[]): Content => ({
  table: {
    widths: ["*"],
    dontBreakRows: true,
    body: [[first, second], ...rest.map((one) => [one])].map((stack) => [{ stack, margin: [6, 0, 2, 0] }]),
  },
  layout: { hLineWidth: () => 0, vLineWidth: (at) => (at === 0 ? 2.5 : 0), vLineColor: () => "#1E2326" },
  margin: [0, 2, 0, 8],
});

/** The PDF writer knows a typeface by name and as bold or not: a list of names and a weight of 600 mean nothing to it. */
function forPaper(svg: string): string {
  return svg
    .replace(/font-family="[^"]*"/, 'font-family="Source Sans 3"')
    .replaceAll('font-weight="600"', 'font-weight="bold"');
}
