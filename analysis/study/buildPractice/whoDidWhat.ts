import { writtenValue } from "./companions.ts";
import type { Contrast } from "./contrasts.ts";
import type { ModeRow, ModeTable } from "./modeTable.ts";
import type { WhoDidWhat } from "./types.ts";

/** The practice by crew, customer, well and season: where it never varies, nobody can tell it from them. */
export function whoDidWhat(table: ModeTable, contrast: Contrast): WhoDidWhat[] {
  const { practice, level } = contrast;
  const rows = contrast.applies.map((index) => table.rows[index]!);
  const practiceIn = (row: ModeRow): number | null => {
    const value = writtenValue(practice, row.facts.practices[practice.id]);
    if (value === null) return null;
    return typeof value === "number" ? value : value === level ? 1 : 0;
  };
  const by = (what: string, read: (row: ModeRow) => string | null): WhoDidWhat => {
    const groups = new Map<string, ModeRow[]>();
    for (const row of rows) {
      const name = read(row) ?? "not written";
      groups.set(name, [...(groups.get(name) ?? []), row]);
    }
    return {
      what,
      rows: [...groups]
        .sort(([a], [b]) => a.localeCompare(b, "en", { numeric: true }))
        .map(([name, own]) => {
          const values = own.map(practiceIn).filter((value) => value !== null);
          return {
            name,
            lives: own.length,
            failures: own.filter(({ failed }) => failed).length,
            practice: values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length,
          };
        }),
    };
  };
  return [
    by("technician", ({ facts }) => facts.technician),
    by("item", ({ life }) => `${life.toolType}, ${life.item}`),
    by("customer", ({ customer }) => customer),
    by("well temperature", ({ conditions }) => bandOf(conditions.temperatureC, 20, "°C")),
    by("vibration class", ({ conditions }) => bandOf(conditions.vibration, 1, "")),
    by(
      "built in",
      ({ facts }) => `${facts.builtOn.slice(0, 4)}, ${facts.builtOn.slice(5, 7) <= "06" ? "first" : "second"} half`,
    ),
  ].filter((one) => one.rows.length > 1);
}

function bandOf(value: number | null, width: number, unit: string): string | null {
  if (value === null) return null;
  const from = Math.floor(value / width) * width;
  return `${from} to ${from + width}${unit === "" ? "" : ` ${unit}`}`;
}
