/** Reads handed-over files back with other libraries than those that wrote them. */
import { unzipSync } from "fflate";
import readXlsxFile from "read-excel-file/node";

/** Text without white space: lines break where paper or slides are full. */
export const squeezed = (text: string): string => text.normalize("NFKC").replace(/\s+/g, "");

/** Text of every page of a PDF, its metadata, and how many bitmaps it holds. */
export async function readPdf(bytes: Uint8Array): Promise<{ pages: string[]; info: object; images: number }> {
  const { getDocument } = await import("pdfjs-dist/legacy/build/pdf.mjs");
  const pdf = await getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 }).promise;
  const pages: string[] = [];
  let images = 0;
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const { items } = await page.getTextContent();
    pages.push(items.map((item) => ("str" in item ? `${item.str}${item.hasEOL ? "\n" : ""}` : "")).join(""));
    images += (await page.getOperatorList()).fnArray.filter((operation) => operation === 85 || operation === 86).length;
  }
  const { info } = await pdf.getMetadata();
  await pdf.destroy();
  return { pages, info, images };
}

/** Cells of every tab of a workbook as values: numbers as numbers. */
export async function readSheets(bytes: Uint8Array): Promise<ReadonlyMap<string, readonly (readonly unknown[])[]>> {
  const sheets = await readXlsxFile(Buffer.from(bytes));
  return new Map(sheets.map(({ sheet, data }) => [sheet, data]));
}

/** Every part of an Office file as text, pictures left out. */
export function partsOf(bytes: Uint8Array): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(unzipSync(new Uint8Array(bytes)))
      .filter(([name]) => /\.(xml|rels)$/.test(name))
      .map(([name, part]) => [name, new TextDecoder().decode(part)]),
  );
}

/** Text of every slide, in order. */
export function readSlides(
  bytes: Uint8Array,
): readonly { readonly text: string; readonly alternatives: readonly string[] }[] {
  const parts = partsOf(bytes);
  const numberOf = (name: string): number => Number(/\d+/.exec(name)?.[0]);
  return [...parts]
    .filter(([name]) => /^ppt\/slides\/slide\d+\.xml$/.test(name))
    .sort(([a], [b]) => numberOf(a) - numberOf(b))
    .map(([, xml]) => ({
      text: [...xml.matchAll(/<a:t>([^<]*)<\/a:t>/g)].map(([, text = ""]) => decoded(text)).join(" "),
      alternatives: [...xml.matchAll(/<p:pic>.*?descr="([^"]*)"/gs)].map(([, text = ""]) => decoded(text)),
    }));
}

export const decoded = (text: string): string =>
  text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&apos;", "'")
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");
