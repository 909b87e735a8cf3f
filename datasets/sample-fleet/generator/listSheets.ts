/** The short lists a shop keeps: tools, items, modes, compounds. */
import type { Records } from "../../../analysis/records/descriptor.ts";
import { dayFirst, plain, whole } from "./delimited.ts";
import { geometryColumns } from "./jointGeometry.ts";
import { commaFormat, listSheet } from "./listSheet.ts";
import type { SheetText } from "./sheetTypes.ts";
import { footPounds } from "./shopUnits.ts";

const statusWords = {
  "in shop": "In shop",
  out: "Out",
  "lost in hole": "LIH",
  scrapped: "Scrap",
  "not known": "",
} as const;

export function listSheets(records: Records): readonly SheetText[] {
  return [
    listSheet<"tools">(
      {
        table: "tools",
        file: "tool_list.csv",
        title: "Tool list",
        before: ["Nowhere Yard tool shop (INVENTED) - tool list", ""],
        format: { ...commaFormat, skipLines: 1, dateOrder: { "In list since": "dmy", "Status date": "dmy" } },
        columns: [
          { header: "Serial", field: "serial", description: "AD or BV, size, number", cell: (row) => row.serial },
          { header: "Type", field: "tool_type", description: "Tool type", cell: (row) => row.tool_type },
          {
            header: "In list since",
            field: "entered_on",
            description: "Day/month/year",
            cell: (row) => dayFirst(row.entered_on),
          },
          {
            header: "Hours then",
            field: "hours_at_entry",
            unit: "h",
            description: "Hours the tool had by then",
            cell: (row) => plain(row.hours_at_entry),
          },
          {
            header: "Status",
            field: "status",
            description: "In shop, out, LIH (lost in hole), scrap",
            rule: { words: "tool status" },
            cell: (row) => statusWords[row.status ?? "not known"],
          },
          {
            header: "Status date",
            field: "status_on",
            description: "Day/month/year",
            cell: (row) => dayFirst(row.status_on),
          },
          { header: "Where", field: "location", description: "Location", cell: (row) => plain(row.location) },
        ],
        more: { size_in: { pattern: "^[A-Z]{2}(\\d{3})-", of: "Serial", becomes: { "475": 4.75, "650": 6.5 } } },
      },
      records.tools ?? [],
    ),
    listSheet<"tool_items">(
      {
        table: "tool_items",
        file: "item_list.csv",
        title: "Items of the tool types",
        before: [],
        format: commaFormat,
        columns: [
          { header: "Tool", field: "tool_type", description: "Tool type", cell: (row) => row.tool_type },
          { header: "Part", field: "item", description: "Item", rule: { words: "items" }, cell: (row) => row.item },
          {
            header: "Kind",
            field: "kind",
            description: "Seal, joint, stack, pin, guide, body",
            cell: (row) => row.kind,
          },
          {
            header: "Position",
            field: "position",
            description: "1 at the uphole end",
            cell: (row) => plain(row.position),
          },
          {
            header: "Make-up torque (ft-lbf)",
            field: "design_torque_Nm",
            unit: "ft-lbf",
            description: "Design torque",
            rule: { unit: "ft-lbf" },
            cell: (row) => whole(row.design_torque_Nm, footPounds(1)),
          },
          {
            header: "Connection",
            field: "connection",
            description: "Connection geometry",
            cell: (row) => plain(row.connection),
          },
          ...geometryColumns,
          { header: "Kit", field: "kit", description: "Redress kit", cell: (row) => plain(row.kit) },
          {
            header: "Also called",
            field: "aliases",
            description: "Other words for it",
            cell: (row) => (row.aliases ?? []).join("; "),
          },
        ],
      },
      records.tool_items ?? [],
    ),
    listSheet<"modes">(
      {
        table: "modes",
        file: "mode_list.csv",
        title: "Failure modes",
        before: ["# INVENTED sample data", "# an item of a kind has the modes of its kind"],
        format: { ...commaFormat, comment: "#" },
        columns: [
          { header: "Part or kind", field: "item", description: "An item, or a kind of item", cell: (row) => row.item },
          { header: "Mode", field: "mode", description: "Failure mode", cell: (row) => row.mode },
          {
            header: "Evident or hidden",
            field: "announces",
            description: "Noticed in the run, or at teardown only",
            cell: (row) => row.announces,
          },
          {
            header: "Counts from severity",
            field: "threshold",
            description: "Severity at which a finding counts as failed",
            cell: (row) => plain(row.threshold),
          },
          {
            header: "Restored by",
            field: "restored_by",
            description: "Renewed, or made up again",
            cell: (row) => row.restored_by,
          },
          {
            header: "Leads to",
            field: "leads_to",
            description: "Another mode of the same item",
            cell: (row) => plain(row.leads_to),
          },
          {
            header: "Shop words",
            field: "words",
            description: "What it is called in the findings",
            cell: (row) => (row.words ?? []).join("; "),
          },
        ],
      },
      records.modes ?? [],
    ),
    listSheet<"compounds">(
      {
        table: "compounds",
        file: "compounds.csv",
        title: "Thread compounds",
        before: [],
        format: commaFormat,
        columns: [
          { header: "Compound", field: "compound", description: "Thread compound", cell: (row) => row.compound },
          {
            header: "FF",
            field: "friction_factor",
            description: "Friction factor",
            cell: (row) => plain(row.friction_factor),
          },
          { header: "FF from", field: "source", description: "Source of the factor", cell: (row) => plain(row.source) },
        ],
      },
      records.compounds ?? [],
    ),
  ];
}
