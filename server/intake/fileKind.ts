import { AnalysisError } from "../../analysis/index.ts";

const starts = (bytes: Uint8Array, ...signature: readonly number[]): boolean =>
  signature.every((byte, index) => bytes[index] === byte);

/**
 * Tells a workbook from a text sheet by its bytes; its name plays no part.
 *
 * Errors  "workbook-not-readable" for workbooks that cannot be read, with what to do: those of before 2007 (.xls), and
 *         those locked with a password, which are kept in the same kind of container.
 */
export function fileKind(bytes: Uint8Array, file: string): "text" | "workbook" {
  if (starts(bytes, 0x50, 0x4b, 0x03, 0x04)) {
    // Bit 0 of the first part's flags (APPNOTE.TXT 4.4.4): the archive is encrypted.
    if (((bytes[6] ?? 0) & 1) === 1) throw locked(file);
    return "workbook";
  }
  if (starts(bytes, 0x50, 0x4b, 0x05, 0x06))
    throw new AnalysisError("workbook-damaged", { file, why: "the archive is empty" });
  if (starts(bytes, 0xd0, 0xcf, 0x11, 0xe0)) {
    // The stream's name in the container's directory, in UTF-16 (MS-OFFCRYPTO 2.3.4.4).
    const encrypted = Buffer.from("EncryptedPackage", "utf16le");
    if (Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).includes(encrypted)) throw locked(file);
    throw new AnalysisError("workbook-not-readable", {
      file,
      looksLike: "a workbook of before 2007 (.xls)",
      remedy: "Open it in a spreadsheet program, save it as .xlsx and drop that.",
    });
  }
  return "text";
}

const locked = (file: string): AnalysisError =>
  new AnalysisError("workbook-not-readable", {
    file,
    looksLike: "locked with a password",
    remedy: "Open it, take the password off, save it and drop it again.",
  });
