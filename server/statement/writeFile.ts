import { type StatementResult, statementDocument } from "../../analysis/index.ts";
import { toCsv } from "../routes/csv.ts";
import { drawPicture } from "./drawPicture.tsx";
import { drawPng } from "./drawPng.ts";
import type { StatementIssue } from "./issue.ts";
import { picturesOf, tablesOf } from "./picturesOf.ts";
import { tableCsv } from "./tableCsv.ts";
import { fileWidth, writeBundle } from "./writeBundle.ts";
import { writePage } from "./writePage.tsx";
import { writePdf } from "./writePdf.ts";
import { writeSheets } from "./writeSheets.ts";
import { writeSlides } from "./writeSlides.ts";

export interface StatementFile {
  readonly bytes: Uint8Array;
  /** Media type. */
  readonly type: string;
}

/**
 * A file of a statement by its name: "statement" as html, pdf, xlsx, pptx, zip (every table and picture) or json; a table by
 * its id as csv; a picture by its id as svg or png. Null where the statement has no such file.
 */
export async function writeFile(
  statement: StatementResult,
  issue: StatementIssue,
  name: string,
): Promise<StatementFile | null> {
  const document = statementDocument(statement);
  const [, id = "", format = ""] = /^([a-z0-9-]+)\.([a-z]+)$/.exec(name) ?? [];
  const text = (content: string, type: string): StatementFile => ({
    bytes: Buffer.from(content, "utf8"),
    type: `${type}; charset=utf-8`,
  });
  if (id === "statement") {
    switch (format) {
      case "html":
        return text(await writePage(document, statement, issue), "text/html");
      case "pdf":
        return { bytes: await writePdf(document, statement, issue), type: "application/pdf" };
      case "xlsx":
        return {
          bytes: await writeSheets(document, issue),
          type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        };
      case "pptx":
        return {
          bytes: await writeSlides(document, statement, issue),
          type: "application/vnd.openxmlformats-officedocument.presentationml.presentation",
        };
      case "zip":
        return { bytes: writeBundle(document, statement), type: "application/zip" };
      case "json":
        return text(`${JSON.stringify({ issue, statement }, null, 2)}\n`, "application/json");
      default:
        return null;
    }
  }
  if (format === "csv") {
    const table = tablesOf(document).find((one) => one.id === id);
    if (!table) return null;
    const { headers, rows } = tableCsv(table);
    return text(`\uFEFF${toCsv(headers, rows)}`, "text/csv");
  }
  const picture = picturesOf(document).find((one) => one.id === id);
  if (!picture || (format !== "svg" && format !== "png")) return null;
  const svg = drawPicture(picture, statement, { width: fileWidth });
  return format === "svg" ? text(svg, "image/svg+xml") : { bytes: drawPng(svg), type: "image/png" };
}
