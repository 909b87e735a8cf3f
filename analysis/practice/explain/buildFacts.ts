import type { Life } from "../../lives/types.ts";
import { keyOf, type Records, type Row } from "../../records/descriptor.ts";
import type { PracticeId } from "./practices.ts";

/**
 * What a build sheet says about one practice. `missing`: nothing written, words where a number belongs ("good tight"), or a
 * value that the audit doubts and nobody has settled; the three are told apart and never filled in.
 */
export type Fact =
  | { readonly value: number | string }
  | { readonly missing: "not written"; readonly text?: undefined }
  | { readonly missing: "written as text"; readonly text: string }
  | { readonly missing: "in doubt"; readonly text?: undefined };

/** What was known of an item before its first run of this life. A practice left out does not apply to it. */
export interface BuildFacts {
  readonly practices: { readonly [P in PracticeId]?: Fact };
  readonly technician: string | null;
  readonly lot: string | null;
  readonly builtOn: string;
}

/** What is known about cells beside their values. */
export interface CellNotes {
  /** Text of cells that hold words where a number belongs, by `table key column`; see `cellName`. */
  readonly texts: ReadonlyMap<string, string>;
  /** Cells that the audit doubts and nobody has settled. */
  readonly doubted: ReadonlySet<string>;
}

export const noNotes: CellNotes = { texts: new Map(), doubted: new Set() };
export const cellName = (table: string, key: string, column: string): string => `${table} ${key} ${column}`;

/**
 * Reads what a build may explain from the redress that began a life. Only rows of that redress are read: nothing of the
 * runs, nothing of the teardown that ended it. A breakout torque is an outcome and is not read at all.
 */
export function buildReader(records: Records, notes: CellNotes = noNotes): (life: Life) => BuildFacts {
  const redresses = new Map((records.redresses ?? []).map((row) => [row.redress, row]));
  const jointRows = new Map((records.joints ?? []).map((row) => [keyOf("joints", row), row]));
  const fittedRows = new Map((records.fitted_items ?? []).map((row) => [keyOf("fitted_items", row), row]));
  const items = new Map((records.tool_items ?? []).map((row) => [keyOf("tool_items", row), row]));
  const friction = new Map((records.compounds ?? []).map((row) => [row.compound, row.friction_factor ?? null]));

  return (life) => {
    const { since, item, toolType, sinceOn } = life;
    const joint = jointRows.get(JSON.stringify([since, item]));
    const fitted = fittedRows.get(JSON.stringify([since, item]));
    const design = items.get(JSON.stringify([toolType, item]))?.design_torque_Nm ?? null;
    return {
      practices: {
        ...(joint ? jointFacts(joint, design, friction, sinceOn, notes) : {}),
        ...(fitted?.renewed ? rubberFacts(fitted, sinceOn, notes) : {}),
      },
      technician: redresses.get(since)?.technician ?? null,
      lot: fitted?.renewed ? (fitted.lot ?? null) : null,
      builtOn: sinceOn,
    };
  };
}

function jointFacts(
  row: Row<"joints">,
  design: number | null,
  friction: ReadonlyMap<string, number | null>,
  builtOn: string,
  notes: CellNotes,
): BuildFacts["practices"] {
  const key = keyOf("joints", row);
  const cell = reader("joints", key, notes);
  const torque = cell("final_torque_Nm", row.final_torque_Nm);
  const ratio = over(torque, design);
  const factor = row.compound == null ? null : (friction.get(row.compound) ?? null);
  const cycles = cell("make_break_cycles", row.make_break_cycles);
  const calibrated = cell("calibrated_on", row.calibrated_on);
  return {
    torque: ratio,
    "corrected torque": over(ratio, factor),
    ...(row.new_thread === true ? { "cycles on new threads": cycles } : {}),
    ...(row.new_thread === false ? { "cycles on used threads": cycles } : {}),
    compound: cell("compound", row.compound),
    threadlocker: cell("threadlocker", row.threadlocker),
    "shoulder treatment": cell("shoulder_treatment", row.shoulder_treatment),
    "torque tool": cell("torque_tool", row.torque_tool),
    "days since calibration": daysFrom(calibrated, builtOn),
  };
}

function rubberFacts(row: Row<"fitted_items">, builtOn: string, notes: CellNotes): BuildFacts["practices"] {
  const cell = reader("fitted_items", keyOf("fitted_items", row), notes);
  return {
    elastomer: cell("elastomer", row.elastomer),
    hardness: cell("hardness_shoreA", row.hardness_shoreA),
    gap: cell("gap_mm", row.gap_mm),
    "cure age": daysFrom(cell("cured_on", row.cured_on), builtOn),
    "backup ring": cell("backup_ring", row.backup_ring),
  };
}

const reader =
  (table: string, key: string, { texts, doubted }: CellNotes) =>
  (column: string, value: number | string | null | undefined): Fact => {
    const name = cellName(table, key, column);
    if (doubted.has(name)) return { missing: "in doubt" };
    if (value != null) return { value };
    const text = texts.get(name);
    return text === undefined ? { missing: "not written" } : { missing: "written as text", text };
  };

function over(fact: Fact, divisor: number | null): Fact {
  if (!("value" in fact)) return fact;
  if (divisor === null || !(divisor > 0) || typeof fact.value !== "number") return { missing: "not written" };
  return { value: fact.value / divisor };
}

/** Whole days before the build; a date after it says nothing and is in doubt. */
function daysFrom(fact: Fact, builtOn: string): Fact {
  if (!("value" in fact)) return fact;
  const days = Math.round((Date.parse(builtOn) - Date.parse(String(fact.value))) / 86_400_000);
  return Number.isFinite(days) && days >= 0 ? { value: days } : { missing: "in doubt" };
}
