/** Drops made to break a reader: one for each seed, the same each time. */
import { zipSync } from "fflate";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { DroppedFile } from "../../server/intake/draft.ts";
import { type HandmadeTab, handmadeWorkbook } from "./workbooks.ts";

export interface FuzzedFile extends DroppedFile {
  /** Lines with something written on them, sheet by sheet; null where bytes were changed and nobody can say. */
  readonly written: readonly number[] | null;
}

interface Random {
  int(most: number): number;
  chance(share: number): boolean;
  pick<T>(from: readonly [T, ...T[]]): T;
}

function randomOf(seed: number): Random {
  const generator = xoroshiro128plus(seed);
  const int = (most: number) => uniformInt(generator, 0, most);
  return {
    int,
    chance: (share) => int(999_999) < share * 1_000_000,
    pick: (from) => from[int(from.length - 1)] ?? from[0],
  };
}

const headerSets: readonly [readonly string[], ...(readonly string[])[]] = [
  ["Run no", "Serial", "Out", "In", "Hours", "Customer", "Well", "Pulled because", "BHT degF"],
  [
    "Build",
    "Serial",
    "Date",
    "Reason",
    "J1 final ft-lbf",
    "J2 final ft-lbf",
    "Torque 3",
    "Main seal lot",
    "Technician",
  ],
  ["Teardown", "Serial", "Date", "Why", "Item", "Condition", "Severity", "Breakout Nm", "Notes"],
  ["Serial", "Tool type", "Size in", "Status", "Location"],
  ["Item", "Mode", "Announces", "Threshold", "Restored by"],
  ["Datum", "Seriennummer", "Moment J1 (Nm)", "Größe", "Stunden"],
  ["alpha", "beta", "gamma"],
];
const oddHeaders: readonly [string, ...string[]] = [
  "__proto__",
  "constructor",
  "toString",
  "",
  "(tab name)",
  "why set aside",
  "Serial",
  "=1+1",
  "<b>x</b>",
  "12",
  "2024-01-02",
  "#",
  "a\nb",
  "\u202egnp",
];
const oddCells: readonly [string, ...string[]] = [
  "",
  " ",
  "-",
  "n/a",
  "=cmd|' /C calc'!A0",
  "+1+1",
  "@SUM(A1)",
  "'=1",
  "<script>alert(1)</script>",
  "__proto__",
  "constructor",
  "hasOwnProperty",
  "1e308",
  "-1e999",
  "1.234.567,89",
  "62,5x",
  "62.5 h",
  "30/02/2024",
  "00/00/0000",
  "13/13/13",
  "2024-02-30",
  "99999999999999999999",
  "good tight",
  'say "so"',
  'a"b',
  '"',
  "a;b,c\td|e",
  "two\nlines",
  "carriage\rreturn",
  "Ünïcödé ½ °F 漢字 🙂",
  "\u202eabc",
  "\u0000",
  "\ufffd",
  "# no comment",
  "// neither",
  "J1; J2; main seal",
  "yes",
  "no",
  "#DIV/0!",
];

/** What a shop would write under a header, most of the time. */
function usualCell(random: Random, header: string, row: number): string | null {
  if (/^(?:run no|build|teardown)/i.test(header)) return `${header[0]}${row}`;
  if (/serial|serien/i.test(header)) return `QX-${100 + random.int(20)}`;
  if (/^(?:out|in|date|datum)$/i.test(header)) return `2024-0${1 + random.int(8)}-${10 + random.int(18)}`;
  if (/hours|stunden|torque|moment|ft-lbf|nm|degf|size/i.test(header)) return String(random.int(4_000) / 10);
  if (/^item$/i.test(header)) return random.pick(["main seal", "J1", "J2"]);
  if (/^(?:condition|mode)$/i.test(header)) return random.pick(["sound", "wear", "galling"]);
  return null;
}

function cellOf(random: Random, header: string, column: number, row: number): string {
  const usual = random.chance(0.9) ? usualCell(random, header, row) : null;
  if (usual !== null) return usual;
  if (random.chance(0.12)) return random.pick(oddCells);
  if (random.chance(0.002)) return "x".repeat(random.int(12_000));
  switch (random.int(5)) {
    case 0:
      return `QX-${100 + random.int(20)}`;
    case 1:
      return `20${10 + random.int(15)}-0${1 + random.int(8)}-${10 + random.int(18)}`;
    case 2:
      return `${1 + random.int(30)}.${1 + random.int(11)}.20${10 + random.int(15)}`;
    case 3:
      return String(random.int(4_000) / 10);
    case 4:
      return random.pick([
        "Planned",
        "Tool failure",
        "sound",
        "wear",
        "galling",
        "main seal",
        "J1",
        "New",
        "lip chewed",
      ]);
    default:
      return column === 0 ? String(row) : random.pick(["ok", "Example Energy", "", "see photo"]);
  }
}

/** Rows of a sheet, with titles, a group line, blocks and ragged lines now and then. */
function tableOf(random: Random): readonly (readonly string[])[] {
  const headers = [...random.pick(headerSets)];
  while (random.chance(0.15)) headers.splice(random.int(headers.length), random.int(1), random.pick(oddHeaders));
  const rows: string[][] = [];
  while (random.chance(0.15)) rows.push([random.pick(["Workshop log", "Export of 1.2.2024", "confidential", "2024"])]);
  if (random.chance(0.1)) rows.push(headers.map((_, column) => (column === 3 ? "Torque" : "")));
  rows.push(headers);
  const count = random.pick([0, 1, 2, 5, 10, 20, 40]);
  const blocks = random.chance(0.15);
  for (let row = 0; row < count; row++) {
    const cells = headers.map((header, column) =>
      blocks && column < 2 && row % 3 > 0 ? "" : cellOf(random, header, column, row),
    );
    if (random.chance(0.03)) cells.push("surplus", random.pick(oddCells));
    if (random.chance(0.03)) cells.splice(random.int(cells.length));
    rows.push(cells);
    if (random.chance(0.02)) rows.push([]);
    if (random.chance(0.03)) rows.push([...cells]);
  }
  return rows;
}

const isWritten = (cells: readonly string[]): boolean => cells.some((cell) => cell.trim() !== "");

function textFile(random: Random, file: string): FuzzedFile {
  const rows = tableOf(random);
  const delimiter = random.pick([",", ";", "\t", "|"]);
  const end = random.pick(["\n", "\r\n", "\n", "\r"]);
  const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;
  const careful = random.chance(0.7);
  const line = (cells: readonly string[]) =>
    cells.map((cell) => (careful && /[",;\t|\r\n#/%]/.test(cell) ? quoted(cell) : cell)).join(delimiter);
  const text = rows.map(line).join(end);
  const bytes = random.pick([
    () => new TextEncoder().encode(text),
    () => new TextEncoder().encode(`\ufeff${text}`),
    () => Uint8Array.from(Buffer.from(text, "latin1")),
    () => Uint8Array.from(Buffer.from(`\ufeff${text}`, "utf16le")),
  ])();
  return { file, bytes, written: careful ? [rows.filter(isWritten).length] : null };
}

function workbook(random: Random, file: string): FuzzedFile {
  const tabs = Array.from({ length: 1 + random.int(3) }, (_, index): HandmadeTab => {
    const rows = random.chance(0.1) ? [] : tableOf(random);
    const cells = rows.map((row) => row.map((cell) => workbookCell(random, cell)));
    const merges = Array.from({ length: random.chance(0.3) ? random.int(3) : 0 }, () => mergeOf(random, rows.length));
    const name = random.pick([`tab ${index}`, "QX-101", "__proto__", "<b>", "Sheet1", `Größe ${index}`]);
    return { name, rows: cells, merges, ...(random.chance(0.2) ? { hidden: true as const } : {}) };
  });
  const bytes = handmadeWorkbook({
    tabs,
    formats: ["dd.mm.yyyy", "[h]:mm", "00000", "0%"],
    strings: ["shared", "=1+1"],
    ...(random.chance(0.2) ? { from1904: true as const } : {}),
  });
  return { file, bytes, written: null };
}

function workbookCell(random: Random, cell: string): string | number | null {
  if (cell === "") return null;
  if (/^\d+(\.\d+)?$/.test(cell) && cell.length < 15) return Number(cell);
  if (random.chance(0.05))
    return random.pick([
      `<c r="@" s="${random.int(6)}"><v>${random.int(60_000)}.${random.int(999)}</v></c>`,
      '<c r="@" t="e"><v>#N/A</v></c>',
      '<c r="@"><f>A1+1</f></c>',
      `<c r="@" t="s"><v>${random.int(random.chance(0.02) ? 9 : 1)}</v></c>`,
      '<c r="@" t="b"><v>1</v></c>',
    ]);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: XML cannot hold them
  return cell.replace(/[\u0000\ufffd]/g, "?").replace(/^<c/, "< c");
}

function mergeOf(random: Random, rows: number): string {
  const [line, column] = [1 + random.int(Math.max(1, rows)), random.int(5)];
  const letter = (index: number) => String.fromCharCode(65 + index);
  return `${letter(column)}${line}:${letter(column + random.int(3))}${line + random.int(4)}`;
}

function junk(random: Random, file: string): FuzzedFile {
  const length = random.pick([0, 1, 3, 40, 400, 4_000]);
  const noise = (most: number) => Uint8Array.from({ length }, () => random.int(most));
  const bytes = random.pick([
    () => noise(255),
    () => noise(127),
    () => new TextEncoder().encode("\n ,;\t\r\n".repeat(length / 4)),
    () => new TextEncoder().encode("a,".repeat(length)),
    () => new TextEncoder().encode(`a,b\n1,"${"x".repeat(length)}`),
    () => new TextEncoder().encode('"'.repeat(length + 1)),
    () => Uint8Array.from([0x50, 0x4b, 0x03, 0x04, ...noise(255)]),
    () => Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, ...noise(255)]),
    () => Uint8Array.from([0xff, 0xfe, ...noise(255)]),
    () => zipSync({ "xl/workbook.xml": noise(127), "xl/worksheets/sheet1.xml": noise(255) }),
  ])();
  return { file, bytes, written: null };
}

/** Cuts a file short, or changes some of its bytes. */
function damaged(random: Random, { file, bytes }: FuzzedFile): FuzzedFile {
  if (random.chance(0.4)) return { file, bytes: bytes.slice(0, random.int(bytes.length)), written: null };
  const changed = Uint8Array.from(bytes);
  for (let times = random.int(8); times >= 0 && changed.length > 0; times--)
    changed[random.int(changed.length - 1)] = random.int(255);
  return { file, bytes: changed, written: null };
}

export function fuzzedDrop(seed: number): readonly FuzzedFile[] {
  const random = randomOf(seed);
  return Array.from({ length: 1 + random.int(2) }, (_, index): FuzzedFile => {
    const name = `${index} ${random.pick(["runs", "builds", "__proto__", "x"])}.${random.pick(["csv", "xlsx", "txt"])}`;
    const kind = random.int(9);
    const whole = kind < 5 ? textFile(random, name) : kind < 9 ? workbook(random, name) : junk(random, name);
    return random.chance(0.2) ? damaged(random, whole) : whole;
  });
}
