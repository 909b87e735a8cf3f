import type { TableName } from "./descriptor.ts";
import type { SetupRow, StoredValues } from "./drop.ts";
import { itemKind } from "./itemKind.ts";
import type { MappedSheet } from "./mapping.ts";
import { catalogueMode, type ItemKind } from "./modeCatalogue.ts";
import { serialPattern } from "./serialPattern.ts";

/** Rows of one table by whatever source, values only. */
type Values = Readonly<Record<string, unknown>>;
type RowsOf = (table: TableName) => readonly Values[];

/**
 * Proposes the rows that no sheet holds but that follow from them: a tool for each serial that no tool list names, an
 * item for each part that builds, runs or teardowns name, a mode for each condition found. Each says why; a person
 * confirms. What is stored, or written in a sheet of the drop, is not proposed again.
 */
export function proposeSetup(mapped: readonly MappedSheet[], existing: Iterable<StoredValues>): readonly SetupRow[] {
  const byTable = new Map<TableName, Values[]>();
  const add = ({ table, values }: { readonly table: TableName; readonly values: Values }) => {
    const rows = byTable.get(table) ?? [];
    rows.push(values);
    byTable.set(table, rows);
  };
  for (const sheet of mapped) for (const { rows } of sheet.lines) rows.forEach(add);
  for (const row of existing) add(row);
  const rowsOf: RowsOf = (table) => byTable.get(table) ?? [];

  const tools = proposeTools(rowsOf);
  const typeOf = new Map(
    [...rowsOf("tools"), ...tools.map((row) => row.values)].map((tool) => [text(tool.serial), text(tool.tool_type)]),
  );
  const items = proposeItems(rowsOf, typeOf);
  const kindOf = new Map<string, ItemKind>();
  for (const item of [...rowsOf("tool_items"), ...items.map((row) => row.values)])
    kindOf.set(text(item.item), item.kind as ItemKind);
  return [...tools, ...items, ...proposeModes(rowsOf, kindOf)];
}

const text = (value: unknown): string => (typeof value === "string" ? value : "");

function proposeTools(rowsOf: RowsOf): readonly SetupRow[] {
  const known = new Set(rowsOf("tools").map((tool) => text(tool.serial)));
  const learned = new Map<string, Values>();
  for (const tool of rowsOf("tools")) {
    const { prefix } = serialPattern(text(tool.serial));
    if (!learned.has(prefix)) learned.set(prefix, tool);
  }
  const serials = (["redresses", "runs", "teardowns"] as const).flatMap((table) =>
    rowsOf(table).map((row) => text(row.serial)),
  );
  const missing = [...new Set(serials)].filter((serial) => serial !== "" && !known.has(serial)).sort();
  return missing.map((serial) => {
    const { prefix, sizeIn } = serialPattern(serial);
    const like = learned.get(prefix);
    const type = text(like?.tool_type) || prefix || "tool";
    const because =
      like !== undefined && prefix !== ""
        ? `Begins with ${prefix} like ${text(like.serial)}, which is listed as ${type}`
        : prefix === ""
          ? "No letters to tell a type by"
          : `Begins with ${prefix}, taken as the tool type`;
    const size = sizeIn === null ? "" : `; the digits behind it say ${sizeIn} in`;
    return {
      table: "tools",
      values: { serial, tool_type: type, size_in: sizeIn },
      why: `${because}${size}. In no tool list.`,
    };
  });
}

function proposeItems(rowsOf: RowsOf, typeOf: ReadonlyMap<string, string>): readonly SetupRow[] {
  const serialOf = new Map<string, string>();
  for (const row of rowsOf("redresses")) serialOf.set(`redress ${text(row.redress)}`, text(row.serial));
  for (const row of rowsOf("teardowns")) serialOf.set(`teardown ${text(row.teardown)}`, text(row.serial));
  const known = new Set(rowsOf("tool_items").map((row) => JSON.stringify([row.tool_type, row.item])));
  const found = new Map<string, { readonly type: string; readonly item: string; readonly where: string }>();
  const note = (serial: string | undefined, item: unknown, where: string) => {
    const type = typeOf.get(serial ?? "") ?? "";
    const place = JSON.stringify([type, item]);
    if (type === "" || text(item) === "" || known.has(place) || found.has(place)) return;
    found.set(place, { type, item: text(item), where });
  };
  for (const row of rowsOf("joints"))
    note(serialOf.get(`redress ${text(row.redress)}`), row.joint, "made up in builds");
  for (const row of rowsOf("fitted_items"))
    note(serialOf.get(`redress ${text(row.redress)}`), row.item, "fitted in builds");
  for (const row of rowsOf("findings"))
    note(serialOf.get(`teardown ${text(row.teardown)}`), row.item, "found on teardowns");
  for (const row of rowsOf("runs")) note(text(row.serial), row.item_seen, "seen failing in runs");

  const places = new Map<string, number>();
  for (const item of rowsOf("tool_items"))
    places.set(text(item.tool_type), (places.get(text(item.tool_type)) ?? 0) + 1);
  return [...found.values()].map(({ type, item, where }) => {
    const kind = itemKind(item);
    const position = (places.get(type) ?? 0) + 1;
    places.set(type, position);
    const because = kind === null ? "its name tells no kind, so body is assumed" : `its name tells the kind ${kind}`;
    return {
      table: "tool_items",
      values: { tool_type: type, item, kind: kind ?? "body", position },
      why: `Named among items ${where}; ${because}; placed in the order in which the sheets name items.`,
    };
  });
}

function proposeModes(rowsOf: RowsOf, kindOf: ReadonlyMap<string, ItemKind>): readonly SetupRow[] {
  const known = new Set(rowsOf("modes").map((row) => JSON.stringify([row.item, row.mode])));
  const seen = new Map<string, { readonly kind: ItemKind; readonly mode: string; evident: boolean }>();
  const note = (item: string, mode: string, evident: boolean) => {
    const kind = kindOf.get(item);
    if (kind === undefined || mode === "" || mode === "sound" || mode === "none") return;
    if (known.has(JSON.stringify([item, mode])) || known.has(JSON.stringify([kind, mode]))) return;
    const place = JSON.stringify([kind, mode]);
    const entry = seen.get(place) ?? { kind, mode, evident: false };
    entry.evident ||= evident;
    seen.set(place, entry);
  };
  for (const row of rowsOf("findings")) note(text(row.item), text(row.condition), false);
  for (const row of rowsOf("runs")) note(text(row.item_seen), text(row.mode_seen), true);
  return [...seen.values()].map(({ kind, mode, evident }) => {
    const entry = catalogueMode(mode);
    const usual = entry?.kinds.includes(kind) ? entry : null;
    const leadsTo = usual?.leadsTo ?? null;
    const target =
      leadsTo !== null && (seen.has(JSON.stringify([kind, leadsTo])) || known.has(JSON.stringify([kind, leadsTo])));
    const announces = usual?.announces ?? (evident ? "evident" : "hidden");
    const restoredBy = usual?.restoredBy ?? "renewed";
    const source = usual === null ? "not in the trade list for this kind" : "in the trade list";
    return {
      table: "modes",
      values: {
        item: kind,
        mode,
        announces,
        threshold: usual?.threshold ?? 3,
        restored_by: restoredBy,
        leads_to: target ? leadsTo : null,
      },
      why: `Found on a ${kind}; ${source}: ${announces === "evident" ? "noticed while running" : "seen only at a teardown"}, counts from severity ${usual?.threshold ?? 3}, restored when ${restoredBy}${target ? `, leads to ${leadsTo}` : ""}.`,
    };
  });
}
