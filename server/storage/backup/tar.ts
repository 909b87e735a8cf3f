/**
 * The little of the ustar format (IEEE Std 1003.1, pax, "ustar Interchange Format") that a backup needs: plain files
 * with short names. Any program that opens archives reads it.
 */

const block = 512;

/** Header block of a plain file. */
export function tarHeader(name: string, size: number): Uint8Array {
  const header = Buffer.alloc(block);
  header.write(name, 0, 100, "utf8");
  header.write("0000600\0", 100, "latin1");
  header.write("0000000\0", 108, "latin1");
  header.write("0000000\0", 116, "latin1");
  header.write(`${size.toString(8).padStart(11, "0")}\0`, 124, "latin1");
  header.write("00000000000\0", 136, "latin1");
  header.write("        ", 148, "latin1");
  header.write("0", 156, "latin1");
  header.write("ustar\u000000", 257, "latin1");
  const sum = header.reduce((total, byte) => total + byte, 0);
  header.write(`${sum.toString(8).padStart(6, "0")}\0 `, 148, "latin1");
  return header;
}

/** Zeros that fill the last block of a file of this size. */
export const tarPadding = (size: number): Uint8Array => new Uint8Array((block - (size % block)) % block);

/** Two blocks of zeros end an archive. */
export const tarEnd = new Uint8Array(2 * block);

export interface TarEntry {
  readonly name: string;
  readonly size: number;
  /** The bytes, in pieces; to be read before the next entry is asked for. */
  readonly bytes: AsyncIterable<Uint8Array>;
}

/** An archive that does not hold; the reader says why. */
export class TarError extends Error {
  override readonly name = "TarError";
}

/**
 * Reads an archive as it streams by, holding no more than a piece of it.
 *
 * Errors  `TarError` for a header that does not match its sum, a kind of entry that no backup holds, or a cut-off end
 */
export async function* readTar(source: AsyncIterable<Uint8Array>): AsyncGenerator<TarEntry> {
  const pieces = source[Symbol.asyncIterator]();
  let rest: Uint8Array = new Uint8Array();

  /** Up to `most` bytes; null at the end. */
  const take = async (most: number): Promise<Uint8Array | null> => {
    while (rest.length === 0) {
      const next = await pieces.next();
      if (next.done === true) return null;
      rest = next.value;
    }
    const taken = rest.subarray(0, most);
    rest = rest.subarray(taken.length);
    return taken;
  };
  const takeExactly = async (size: number): Promise<Buffer> => {
    const parts: Uint8Array[] = [];
    for (let left = size; left > 0; ) {
      const part = await take(left);
      if (part === null) throw new TarError("it is cut off");
      parts.push(part);
      left -= part.length;
    }
    return Buffer.concat(parts);
  };
  async function* body(size: number): AsyncGenerator<Uint8Array> {
    for (let left = size; left > 0; ) {
      const part = await take(left);
      if (part === null) throw new TarError("it is cut off");
      left -= part.length;
      yield part;
    }
  }

  for (;;) {
    const header = await takeExactly(block);
    if (header.every((byte) => byte === 0)) break;
    const { name, size } = readHeader(header);
    yield { name, size, bytes: body(size) };
    await takeExactly(tarPadding(size).length);
  }
  // The checksum of the packed stream is at its very end.
  while ((await take(block)) !== null);
}

function readHeader(header: Buffer): { readonly name: string; readonly size: number } {
  const text = (from: number, length: number) => header.toString("latin1", from, from + length).split("\0")[0] ?? "";
  const written = Number.parseInt(text(148, 8).trim(), 8);
  const sum = header.reduce((total, byte, at) => total + (at >= 148 && at < 156 ? 32 : byte), 0);
  if (written !== sum) throw new TarError("a header does not match its checksum");
  const size = Number.parseInt(text(124, 12), 8);
  if (text(156, 1) !== "0" || !Number.isSafeInteger(size))
    throw new TarError("it holds something that no backup holds");
  return { name: text(0, 100), size };
}
