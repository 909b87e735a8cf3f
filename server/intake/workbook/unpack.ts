import { Unzip, type UnzipFile, UnzipInflate } from "fflate";
import { AnalysisError } from "../../../analysis/index.ts";

export const largestUnpackedBytes = 320_000_000;
const mostParts = 10_000;
/** Compressed bytes given to the inflater at once: at the highest ratio of deflate (1032) they unpack to 17 MB. */
const pieceBytes = 16_384;

/** The parts of a workbook that hold what is written in it; pictures, charts and macros are never unpacked. */
const wantedPart = /^(?:xl\/.*\.(?:xml|rels)|\[Content_Types\]\.xml|mimetype|xl\/workbook\.bin|content\.xml)$/i;
const unwantedFolder =
  /^xl\/(?:media|drawings|charts|theme|printerSettings|externalLinks|pivot\w*|calcChain|comments)/i;

/**
 * Unpacks the parts of a workbook, counting every byte that comes out: a file that unpacks to more than the limit is
 * given up at once, whatever its headers say.
 *
 * @returns  Bytes by the part's name.
 * Errors    "workbook-unpacks-too-large", "workbook-damaged" for an archive that is cut off, locked or unknown.
 */
export function unpack(bytes: Uint8Array, file: string, limit = largestUnpackedBytes): ReadonlyMap<string, Uint8Array> {
  const parts = new Map<string, Uint8Array>();
  const open = new Set<string>();
  let total = 0;
  let count = 0;
  let failed: unknown = null;
  const damaged = (why: string) => new AnalysisError("workbook-damaged", { file, why });

  const unzip = new Unzip((part: UnzipFile) => {
    count += 1;
    if (count > mostParts) throw damaged(`it holds more than ${mostParts} parts`);
    const name = part.name.replace(/\\/g, "/").replace(/^\//, "");
    if (!wantedPart.test(name) || unwantedFolder.test(name)) return;
    if (parts.has(name) || open.has(name)) throw damaged(`the part ${name.slice(0, 80)} is there twice`);
    const pieces: Uint8Array[] = [];
    open.add(name);
    part.ondata = (error, piece, final) => {
      if (error !== null) {
        failed ??= error;
        return;
      }
      total += piece.length;
      if (total > limit) throw new AnalysisError("workbook-unpacks-too-large", { file, bytes: bytes.length, limit });
      if (piece.length > 0) pieces.push(piece);
      if (!final) return;
      open.delete(name);
      parts.set(name, joined(pieces));
    };
    part.start();
  });
  unzip.register(UnzipInflate);

  try {
    for (let at = 0; at < bytes.length; at += pieceBytes) {
      const end = Math.min(at + pieceBytes, bytes.length);
      unzip.push(bytes.subarray(at, end), end === bytes.length);
      if (failed !== null) throw failed;
    }
  } catch (error) {
    if (error instanceof AnalysisError) throw error;
    throw damaged(`its archive does not hold together (${error instanceof Error ? error.message.slice(0, 80) : "?"})`);
  }
  if (open.size > 0) throw damaged("the file is cut off");
  return parts;
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}
