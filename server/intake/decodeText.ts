import { AnalysisError, type SheetFormat } from "../../analysis/index.ts";

/** Characters 0x80-0x9f of windows-1252 (encoding.spec.whatwg.org). Own table: the decoder of some Node releases reads them as ISO 8859-1. */
const upperControls = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

/**
 * Turns the bytes of a sheet into text: UTF-16 where a byte order mark says so, UTF-8 where the bytes are valid UTF-8,
 * windows-1252 (which contains Latin-1's letters) otherwise. The byte order mark is taken off.
 *
 * Errors  "sheet-not-text" for workbooks, archives, pictures and other binary bytes, with what they look like.
 */
export function decodeText(
  bytes: Uint8Array,
  file: string,
  encoding?: SheetFormat["encoding"],
): { readonly text: string; readonly encoding: SheetFormat["encoding"] } {
  const found = encoding ?? decideEncoding(bytes);
  refuseBinary(bytes, file, found);
  const text =
    found === "windows-1252" ? fromWindows1252(bytes) : new TextDecoder(found, { ignoreBOM: false }).decode(bytes);
  refuseControls(text, file);
  return { text, encoding: found };
}

function decideEncoding(bytes: Uint8Array): SheetFormat["encoding"] {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return "utf-8";
  } catch {
    return "windows-1252";
  }
}

const signatures: readonly (readonly [string, readonly number[]])[] = [
  ["a workbook or archive (zip)", [0x50, 0x4b, 0x03, 0x04]],
  ["an old workbook", [0xd0, 0xcf, 0x11, 0xe0]],
  ["a PDF", [0x25, 0x50, 0x44, 0x46]],
  ["a picture", [0x89, 0x50, 0x4e, 0x47]],
  ["a picture", [0xff, 0xd8, 0xff]],
  ["a compressed file", [0x1f, 0x8b]],
];

function refuseBinary(bytes: Uint8Array, file: string, encoding: SheetFormat["encoding"]): void {
  for (const [looksLike, start] of signatures) {
    if (start.every((byte, index) => bytes[index] === byte))
      throw new AnalysisError("sheet-not-text", { file, looksLike });
  }
  if (encoding !== "utf-16le" && bytes.includes(0)) {
    throw new AnalysisError("sheet-not-text", { file, looksLike: "binary data (zero bytes)" });
  }
}

/** One odd control character in a thousand is dirt from an export; more is not text. */
function refuseControls(text: string, file: string): void {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is counted
  const controls = text.match(/[\u0000-\u0008\u000b\u000e-\u001f\u007f\ufffd]/g)?.length ?? 0;
  if (controls > Math.max(2, text.length / 1000)) {
    throw new AnalysisError("sheet-not-text", { file, looksLike: "binary data (control characters)" });
  }
}

function fromWindows1252(bytes: Uint8Array): string {
  return Buffer.from(bytes)
    .toString("latin1")
    .replace(/[\u0080-\u009f]/g, (sign) => upperControls[sign.charCodeAt(0) - 0x80] ?? sign);
}
