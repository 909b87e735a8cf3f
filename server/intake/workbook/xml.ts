/** What a part of a workbook is told as: tags by their name without prefix, and the text between them, decoded. */
export interface XmlListener {
  /** `attributes` is the tag's inside as written; `attribute` reads from it. An empty tag is opened and closed. */
  open(name: string, attributes: string): void;
  close(name: string): void;
  text(text: string): void;
}

export class XmlError extends Error {}

const pieceBytes = 1 << 20;
const longestTag = 1 << 20;

/**
 * Reads XML as far as spreadsheet parts use it (ECMA-376, Part 1): tags, text, character references, CDATA. A document
 * type is refused, so that no entity of its own can be declared.
 *
 * Errors  `XmlError` for a document type, a tag that does not end, or bytes that are no text.
 */
export function readXml(bytes: Uint8Array, listener: XmlListener): void {
  const utf16 = bytes[0] === 0xff && bytes[1] === 0xfe;
  const decoder = new TextDecoder(utf16 ? "utf-16le" : "utf-8");
  let rest = "";
  for (let at = 0; at < bytes.length; at += pieceBytes) {
    const last = at + pieceBytes >= bytes.length;
    rest = readPiece(rest + decoder.decode(bytes.subarray(at, at + pieceBytes), { stream: !last }), listener);
    if (rest.length > longestTag) throw new XmlError("a tag or a text is longer than anything a sheet holds");
  }
  if (rest.trim() !== "") throw new XmlError("it ends in the middle of a tag");
}

/** @returns what is left: the beginning of a tag, or text that may go on. */
function readPiece(piece: string, listener: XmlListener): string {
  let at = 0;
  while (at < piece.length) {
    const start = piece.indexOf("<", at);
    if (start < 0) return piece.slice(at);
    if (start > at) listener.text(decoded(piece.slice(at, start)));
    const end = endOfTag(piece, start);
    if (end < 0) return piece.slice(start);
    readTag(piece.slice(start, end), listener);
    at = end;
  }
  return "";
}

/** Behind the ">" that ends a tag; one inside quotes does not. -1 where the piece ends first. */
function endOfTag(piece: string, start: number): number {
  const second = piece[start + 1];
  if (second === "!" || second === "?" || second === undefined) {
    if (piece.startsWith("<!--", start)) return after(piece, "-->", start + 4);
    if (piece.startsWith("<![CDATA[", start)) return after(piece, "]]>", start + 9);
    if (second === "?") return after(piece, "?>", start + 2);
    if (piece.length - start < 9) return -1;
    throw new XmlError("it declares a document type");
  }
  let quote = 0;
  for (let i = start + 1; i < piece.length; i++) {
    const sign = piece.charCodeAt(i);
    if (quote !== 0) {
      if (sign === quote) quote = 0;
    } else if (sign === 62) return i + 1;
    else if (sign === 34 || sign === 39) quote = sign;
  }
  return -1;
}

function after(piece: string, end: string, from: number): number {
  const found = piece.indexOf(end, from);
  return found < 0 ? -1 : found + end.length;
}

function readTag(tag: string, listener: XmlListener): void {
  if (tag.startsWith("<?") || tag.startsWith("<!--")) return;
  if (tag.startsWith("<![CDATA[")) {
    listener.text(tag.slice(9, -3));
    return;
  }
  if (tag.startsWith("</")) {
    listener.close(localName(tag.slice(2, -1).trim()));
    return;
  }
  const empty = tag.endsWith("/>");
  const inside = tag.slice(1, empty ? -2 : -1);
  const space = inside.search(/\s/);
  const name = localName(space < 0 ? inside : inside.slice(0, space));
  listener.open(name, space < 0 ? "" : inside.slice(space));
  if (empty) listener.close(name);
}

const localName = (name: string): string => name.slice(name.indexOf(":") + 1);

/** The value of an attribute, null where the tag has none. The prefix of the name counts ("r:id"). */
export function attribute(attributes: string, name: string): string | null {
  const plain = attributes.indexOf(` ${name}="`);
  if (plain >= 0 && attributes.indexOf("'") < 0) {
    const from = plain + name.length + 3;
    return decoded(attributes.slice(from, attributes.indexOf('"', from)));
  }
  for (const [, found, value = "", other = ""] of attributes.matchAll(/([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)) {
    if (found === name) return decoded(value || other);
  }
  return null;
}

const named: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

function decoded(text: string): string {
  if (!text.includes("&")) return text;
  return text.replace(/&(?:#(\d{1,7})|#x([0-9a-f]{1,6})|(amp|lt|gt|quot|apos));/gi, (all, decimal, hex, name) => {
    if (name !== undefined) return named[String(name).toLowerCase()] ?? all;
    const point = decimal !== undefined ? Number(decimal) : Number.parseInt(String(hex), 16);
    return point > 0 && point <= 0x10ffff ? String.fromCodePoint(point) : "\ufffd";
  });
}
