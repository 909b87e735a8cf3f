import {
  type Inline,
  plainText,
  type StatementDocument,
  type StatementPicture,
  type StatementResult,
  tellingComparisons,
} from "../../analysis/index.ts";
import { drawPicture } from "./drawPicture.tsx";
import { drawPng } from "./drawPng.ts";
import type { StatementIssue } from "./issue.ts";
import { keepTogether } from "./keepTogether.ts";
import { picturesOf } from "./picturesOf.ts";
import { sayIssue } from "./sayIssue.ts";

/** Inches of a wide slide, its margins, and the room for a picture. */
const slide = { width: 13.333, height: 7.5, margin: 0.6, top: 1.25, foot: 7.05 } as const;
const room = { width: slide.width - 2 * slide.margin, height: slide.foot - slide.top - 0.1 } as const;
/** Points; characters and lines that fit at that size, counted in rendered slides with some room to spare. */
const textSize = 18;
const charactersALine = 92;
const linesASlide = 16;
const ink = "1E2326";
const muted = "5C6165";
const font = "Source Sans 3";
const pictureWidth = 820;
/** More rows than these are not read on a wall. */
const mostRows = 8;

/** The statement as slides: what it says, one picture a slide, and what it does not say. */
export async function writeSlides(
  document: StatementDocument,
  statement: StatementResult,
  issue: StatementIssue,
): Promise<Uint8Array> {
  const { default: Presentation } = await import("pptxgenjs");
  const deck = new Presentation();
  deck.layout = "LAYOUT_WIDE";
  deck.title = `${document.title}: ${document.subtitle}`;
  deck.author = "Afterrun";
  deck.company = "";
  deck.subject = document.contentHash;

  const addSlide = (title: string) => {
    const one = deck.addSlide();
    one.addText(title, {
      x: slide.margin,
      y: 0.35,
      w: room.width,
      h: 0.8,
      fontFace: font,
      fontSize: 24,
      bold: true,
      color: ink,
      valign: "top",
      fit: "shrink",
    });
    one.addText(
      [document.marking, sayIssue(issue), `content ${document.contentHash.slice(0, 16)}`]
        .filter((part) => part !== null)
        .join(" · "),
      { x: slide.margin, y: slide.foot, w: room.width, h: 0.35, fontFace: font, fontSize: 10, color: muted },
    );
    return one;
  };
  const addSentences = (title: string, items: readonly Inline[]): void => {
    for (const [page, part] of pagesOf(items).entries()) {
      addSlide(page === 0 ? title : `${title}, continued`).addText(
        part.map((text) => ({
          text: keepTogether(plainText(text)),
          options: { bullet: true, breakLine: true, paraSpaceAfter: 6 },
        })),
        {
          x: slide.margin,
          y: slide.top,
          w: room.width,
          h: room.height,
          fontFace: font,
          fontSize: textSize,
          color: ink,
          valign: "top",
        },
      );
    }
  };

  const first = addSlide(document.title);
  first.addText(document.subtitle, {
    x: slide.margin,
    y: 1.2,
    w: room.width,
    h: 0.6,
    fontFace: font,
    fontSize: 18,
    color: muted,
  });
  first.addText(sayIssue(issue), {
    x: slide.margin,
    y: 1.9,
    w: room.width,
    h: 0.6,
    fontFace: font,
    fontSize: 16,
    bold: true,
    color: ink,
  });
  addSentences("In short", document.summary);
  for (const picture of picturesOf(document)) {
    const { data, width, height } = pictureOf(picture, statement);
    addSlide(titleOf(picture, statement)).addImage({
      data,
      x: slide.margin + (room.width - width) / 2,
      y: slide.top,
      w: width,
      h: height,
      altText: `${picture.finding}. Result ${picture.result}.`,
    });
  }
  const cautions = document.sections.find(({ id }) => id === "cautions");
  for (const block of cautions?.blocks ?? []) if (block.kind === "caution") addSentences(block.title, block.items);
  if (issue.changes.length > 0)
    addSentences(
      "What changed since the last statement",
      issue.changes.map((change) => [change]),
    );
  const written = await deck.write({ outputType: "uint8array" });
  if (!(written instanceof Uint8Array)) throw new Error("The slides were not written as bytes.");
  return written;
}

function pictureOf(
  picture: StatementPicture,
  statement: StatementResult,
): { data: string; width: number; height: number } {
  // The finding is the slide's heading; in the picture it would stand twice.
  const svg = drawPicture({ ...picture, finding: "" }, statement, { width: pictureWidth, most: mostRows });
  const [, w = "1", h = "1"] = /<svg[^>]* width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? [];
  const scale = Math.min(room.width / Number(w), room.height / Number(h));
  return {
    data: `image/png;base64,${Buffer.from(drawPng(svg)).toString("base64")}`,
    width: Number(w) * scale,
    height: Number(h) * scale,
  };
}

/** The finding; where not every row has room in the picture, how many of them are in it. */
function titleOf({ finding, draws }: StatementPicture, { pictures, beforeAfter }: StatementResult): string {
  const modes = pictures.whatFails.modes.length;
  if (draws === "rates" && modes > mostRows) return `${finding}; the ${mostRows} highest of ${modes} modes`;
  const comparisons = beforeAfter?.comparisons.length ?? 0;
  const drawn = beforeAfter === null ? 0 : tellingComparisons(beforeAfter, mostRows).length;
  if (draws === "comparisons" && comparisons > drawn) return `${finding}; ${drawn} of ${comparisons} comparisons`;
  return finding;
}

/** As many sentences a slide as fit at the text size, each with the space after it. */
function pagesOf(items: readonly Inline[]): readonly (readonly Inline[])[] {
  const pages: Inline[][] = [[]];
  let lines = 0;
  for (const item of items) {
    const own = Math.ceil(plainText(item).length / charactersALine) + 0.4;
    if (lines + own > linesASlide) {
      pages.push([]);
      lines = 0;
    }
    pages.at(-1)?.push(item);
    lines += own;
  }
  return pages;
}
