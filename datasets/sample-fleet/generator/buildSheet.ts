/** The build sheets of one tool type: one wide line a build, joints and items side by side. */
import { group } from "d3-array";
import { keyOf, type Records, type Row, type RowRef } from "../../../analysis/records/descriptor.ts";
import type { AddedRows, ColumnRule } from "../../../analysis/records/mapping.ts";
import { dayFirst, delimitedText, plain, whole, yesNo } from "./delimited.ts";
import { commaFormat } from "./listSheet.ts";
import { placeOf, type SheetHeader, type SheetText } from "./sheetTypes.ts";
import { footPounds, thousandths } from "./shopUnits.ts";
import { redressWords } from "./shopWords.ts";
import type { ItemOfType, ToolType } from "./toolTypes.ts";

interface Build {
  readonly redress: Row<"redresses">;
  readonly joints: ReadonlyMap<string, Row<"joints">>;
  readonly fitted: ReadonlyMap<string, Row<"fitted_items">>;
}

interface BuildColumn {
  readonly header: SheetHeader;
  readonly table: "redresses" | "joints" | "fitted_items";
  /** The joint or item this column is about; null for the redress itself. */
  readonly of: string | null;
  readonly field: string;
  readonly rule?: Omit<ColumnRule, "from">;
  readonly cell: (build: Build) => string;
}

/** The index pin is not on the sheet: every rebuild renews it, and the shop was asked and said so. */
const notOnSheet = "index pin";

/** @param written  cells that hold no value of their column, by `place column`. */
export function buildSheet(records: Records, type: ToolType, written: ReadonlyMap<string, string>): SheetText {
  const serials = new Set(
    (records.tools ?? []).filter((tool) => tool.tool_type === type.name).map((tool) => tool.serial),
  );
  const joints = group(records.joints ?? [], (joint) => joint.redress);
  const fitted = group(records.fitted_items ?? [], (item) => item.redress);
  const builds = (records.redresses ?? [])
    .filter((redress) => serials.has(redress.serial))
    .map(
      (redress): Build => ({
        redress,
        joints: new Map((joints.get(redress.redress) ?? []).map((joint) => [joint.joint, joint])),
        fitted: new Map((fitted.get(redress.redress) ?? []).map((item) => [item.item, item])),
      }),
    );

  const items = type.items.filter((item) => item.item !== notOnSheet);
  const columns: readonly BuildColumn[] = [
    ...redressColumns,
    ...items.filter((item) => item.kind === "joint").flatMap((item) => jointColumns(item, written)),
    ...items.flatMap(itemColumns),
  ];
  const cells = builds.map((build) => columns.map((column) => column.cell(build)));
  const before = [`Nowhere Yard tool shop (INVENTED) - build sheets ${type.name}`, ""];
  const { text, firstLine } = delimitedText(
    before,
    columns.map(({ header }) => header.name),
    cells,
    ",",
  );

  const places = new Map<string, number>();
  for (const [index, build] of builds.entries()) {
    const line = firstLine + index;
    places.set(placeOf({ table: "redresses", key: keyOf("redresses", build.redress) }), line);
    for (const joint of build.joints.values())
      places.set(placeOf({ table: "joints", key: keyOf("joints", joint) }), line);
    for (const item of build.fitted.values())
      places.set(placeOf({ table: "fitted_items", key: keyOf("fitted_items", item) }), line);
  }
  const redress: ColumnRule = { from: "Build no" };
  const member = (table: "joints" | "fitted_items", name: "joint" | "item", of: string) => ({
    [name]: { constant: of },
    ...rulesOf(columns.filter((column) => column.table === table && column.of === of)),
    ...(table === "fitted_items" && type.items.find((item) => item.item === of)?.kind === "seal"
      ? {
          hardness_is: {
            pattern: "^(\\d)",
            of: `${of} Shore A`,
            becomes: { "7": "measured", "8": "measured", "9": "measured" },
          },
        }
      : {}),
  });
  return {
    file: `build_sheets_${type.prefix}.csv`,
    title: `Build sheets, ${type.name}`,
    text,
    format: { ...commaFormat, skipLines: 1, dateOrder: dateOrders(columns) },
    headers: columns.map(({ header }) => header),
    tables: [
      { table: "redresses", columns: rulesOf(redressColumns) },
      {
        table: "joints",
        columns: { redress },
        members: items.filter((item) => item.kind === "joint").map((item) => member("joints", "joint", item.item)),
        unlessBlank: ["new_thread"],
      },
      {
        table: "fitted_items",
        columns: { redress },
        members: items.map((item) => member("fitted_items", "item", item.item)),
        unlessBlank: ["renewed"],
      },
    ],
    addRows: items.length === type.items.length ? [] : [indexPinRows],
    places,
    headerOf: (row, name) => headerOf(columns, row, name),
  };
}

const indexPinRows: AddedRows = {
  table: "fitted_items",
  columns: { redress: { from: "Build no" }, item: { constant: notOnSheet }, renewed: { constant: true } },
  question: "The build sheet of a bypass valve does not name the index pin. Does a rebuild renew it?",
  statement: "Every build and rebuild of a bypass valve renews the index pin.",
  answered: true,
};

const rulesOf = (columns: readonly BuildColumn[]): Record<string, ColumnRule> =>
  Object.fromEntries(columns.map(({ field, header, rule }) => [field, { from: header.name, ...rule }]));

const dateOrders = (columns: readonly BuildColumn[]) =>
  Object.fromEntries(
    columns
      .filter(({ field }) => field === "done_on" || field === "cured_on")
      .map(({ header }) => [header.name, "dmy" as const]),
  );

function headerOf(columns: readonly BuildColumn[], row: RowRef, name: string): string | null {
  const key: readonly unknown[] = JSON.parse(row.key);
  const of = row.table === "redresses" ? null : key[1];
  return (
    columns.find((column) => column.table === row.table && column.of === of && column.field === name)?.header.name ??
    null
  );
}

const ofRedress = (
  name: string,
  field: string,
  description: string,
  cell: (redress: Row<"redresses">) => string,
  rule?: BuildColumn["rule"],
): BuildColumn => ({
  header: { name, description },
  table: "redresses",
  of: null,
  field,
  cell: ({ redress }) => cell(redress),
  ...(rule ? { rule } : {}),
});

const redressColumns: readonly BuildColumn[] = [
  ofRedress("Build no", "redress", "Number of the build", (redress) => redress.redress),
  ofRedress("Serial", "serial", "Tool", (redress) => redress.serial),
  ofRedress("Date", "done_on", "Day/month/year", (redress) => dayFirst(redress.done_on)),
  ofRedress("Reason", "reason", "The shop's own words", (redress) => redressWords[redress.reason][0], {
    words: "redress reasons",
  }),
  ofRedress("Tech", "technician", "Technician", (redress) => plain(redress.technician)),
  ofRedress("Press test", "pressure_test", "Pass or fail", (redress) => plain(redress.pressure_test)),
  ofRedress("Length mm", "overall_length_mm", "Overall length", (redress) => plain(redress.overall_length_mm)),
];

function jointColumns({ item }: ItemOfType, written: ReadonlyMap<string, string>): readonly BuildColumn[] {
  const column = (
    name: string,
    field: keyof Row<"joints"> & string,
    description: string,
    cell: (joint: Row<"joints">) => string,
    unit?: string,
  ): BuildColumn => ({
    header: { name: `${item} ${name}`, description, ...(unit ? { unit } : {}) },
    table: "joints",
    of: item,
    field,
    ...(unit ? { rule: { unit } } : {}),
    cell: ({ joints }) => {
      const joint = joints.get(item);
      if (joint === undefined) return "";
      return written.get(`${placeOf({ table: "joints", key: keyOf("joints", joint) })} ${field}`) ?? cell(joint);
    },
  });
  return [
    column("new thread", "new_thread", "Y or N; blank: not made up in this build", (joint) => yesNo(joint.new_thread)),
    column(
      "target ft-lbf",
      "target_torque_Nm",
      "Target torque",
      (joint) => whole(joint.target_torque_Nm, footPounds(1)),
      "ft-lbf",
    ),
    column(
      "final ft-lbf",
      "final_torque_Nm",
      "Final torque",
      (joint) => whole(joint.final_torque_Nm, footPounds(1)),
      "ft-lbf",
    ),
    column("M&B", "make_break_cycles", "Make-and-break cycles before the final torque", (joint) =>
      plain(joint.make_break_cycles),
    ),
    column("compound", "compound", "Thread compound", (joint) => plain(joint.compound)),
    column("locker", "threadlocker", "Threadlocker grade", (joint) => plain(joint.threadlocker)),
    column("shoulder", "shoulder_treatment", "Shoulder treatment", (joint) => plain(joint.shoulder_treatment)),
    column("machine", "torque_tool", "Torque machine", (joint) => plain(joint.torque_tool)),
  ];
}

function itemColumns({ item, kind }: ItemOfType): readonly BuildColumn[] {
  const column = (
    name: string,
    field: keyof Row<"fitted_items"> & string,
    description: string,
    cell: (row: Row<"fitted_items">) => string,
    unit?: string,
  ): BuildColumn => ({
    header: { name: `${item} ${name}`, description, ...(unit ? { unit } : {}) },
    table: "fitted_items",
    of: item,
    field,
    ...(unit === "thou" ? { rule: { unit } } : {}),
    cell: ({ fitted }) => {
      const row = fitted.get(item);
      return row === undefined ? "" : cell(row);
    },
  });
  const renewed = column("renewed", "renewed", "Y or N", (row) => yesNo(row.renewed));
  const brought = column(
    "hours brought",
    "age_at_fitting_h",
    "Hours it had before these records",
    (row) => plain(row.age_at_fitting_h),
    "h",
  );
  const elastomer = [
    column("rubber", "elastomer", "Elastomer class", (row) => plain(row.elastomer)),
    column("lot", "lot", "Lot", (row) => plain(row.lot)),
    column("cured", "cured_on", "Cure date, day/month/year", (row) => dayFirst(row.cured_on)),
  ];
  if (kind === "seal") {
    return [
      renewed,
      ...elastomer,
      column("Shore A", "hardness_shoreA", "Hardness as measured", (row) => plain(row.hardness_shoreA), "Shore A"),
      column("gap thou", "gap_mm", "Extrusion gap", (row) => whole(row.gap_mm, thousandths(1)), "thou"),
      column("backup", "backup_ring", "Backup ring", (row) => plain(row.backup_ring)),
    ];
  }
  if (kind === "stack") return [renewed, brought, ...elastomer];
  if (kind === "pin")
    return [renewed, brought, column("no", "item_serial", "Serial of the pin", (row) => plain(row.item_serial))];
  return [renewed, brought];
}
