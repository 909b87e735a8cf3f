/** What the shop plans and decided, as sheets: jobs to come, kit stock, costs, decisions. */
import type { Records } from "../../../analysis/records/descriptor.ts";
import { dayFirst, plain, whole } from "./delimited.ts";
import { commaFormat, listSheet } from "./listSheet.ts";
import type { SheetText } from "./sheetTypes.ts";

const dated = (...headers: readonly string[]) => ({
  ...commaFormat,
  skipLines: 1,
  dateOrder: Object.fromEntries(headers.map((header) => [header, "dmy" as const])),
});
const title = (what: string) => [`Nowhere Yard tool shop (INVENTED) - ${what}`, ""];
const degrees = (celsius: number | null | undefined) => whole(celsius == null ? null : celsius * 1.8 + 32, 1);

export const planSheets = (records: Records): readonly SheetText[] => [
  listSheet<"planned_runs">(
    {
      table: "planned_runs",
      file: "planned_jobs.csv",
      title: "Planned jobs",
      before: title("jobs to come"),
      format: dated("Goes out"),
      columns: [
        { header: "Serial", field: "serial", description: "Tool serial", cell: (row) => row.serial },
        {
          header: "Goes out",
          field: "start_on",
          description: "Day/month/year",
          cell: (row) => dayFirst(row.start_on),
        },
        {
          header: "Planned hrs",
          field: "hours",
          unit: "h",
          description: "Circulating hours asked for",
          cell: (row) => plain(row.hours),
        },
        {
          header: "Expected BHT degF",
          field: "max_temperature_C",
          unit: "degF",
          description: "Highest temperature expected",
          rule: { unit: "degF" },
          cell: (row) => degrees(row.max_temperature_C),
        },
        { header: "Customer", field: "customer", description: "Customer", cell: (row) => plain(row.customer) },
        { header: "Well", field: "well", description: "Well", cell: (row) => plain(row.well) },
        { header: "Remark", field: "note", description: "Remark", cell: (row) => plain(row.note) },
      ],
    },
    records.planned_runs ?? [],
  ),
  listSheet<"stock">(
    {
      table: "stock",
      file: "kit_stock.csv",
      title: "Kit stock",
      before: title("redress kits on the shelf"),
      format: dated("Counted"),
      columns: [
        { header: "Kit", field: "kit", description: "Redress kit, as in the item list", cell: (row) => row.kit },
        { header: "On hand", field: "on_hand", description: "Kits on the shelf", cell: (row) => plain(row.on_hand) },
        {
          header: "Lead time (days)",
          field: "lead_time_d",
          unit: "d",
          description: "Calendar days from order to shelf",
          rule: { unit: "d" },
          cell: (row) => plain(row.lead_time_d),
        },
        {
          header: "Counted",
          field: "counted_on",
          description: "Day/month/year",
          cell: (row) => dayFirst(row.counted_on),
        },
        { header: "Remark", field: "note", description: "Remark", cell: (row) => plain(row.note) },
      ],
    },
    records.stock ?? [],
  ),
  listSheet<"costs">(
    {
      table: "costs",
      file: "cost_list.csv",
      title: "Costs",
      before: title("what things cost"),
      format: dated("Holds from"),
      columns: [
        { header: "What", field: "what", description: "What costs", cell: (row) => row.what },
        { header: "Tool", field: "tool_type", description: "Tool type, or all", cell: (row) => row.tool_type },
        {
          header: "Holds from",
          field: "dated_on",
          description: "Day/month/year",
          cell: (row) => dayFirst(row.dated_on),
        },
        {
          header: "Amount",
          field: "amount",
          description: "In the currency beside it",
          cell: (row) => plain(row.amount),
        },
        { header: "Currency", field: "currency", description: "Three letters (ISO 4217)", cell: (row) => row.currency },
        { header: "Remark", field: "note", description: "Remark", cell: (row) => plain(row.note) },
      ],
    },
    records.costs ?? [],
  ),
  listSheet<"decisions">(
    {
      table: "decisions",
      file: "decisions.csv",
      title: "Decisions",
      before: title("how we redress"),
      format: dated("Holds from"),
      columns: [
        { header: "Tool", field: "tool_type", description: "Tool type", cell: (row) => row.tool_type },
        {
          header: "Part",
          field: "item",
          description: "An item, or whole tool",
          rule: { words: "items" },
          cell: (row) => row.item,
        },
        {
          header: "Holds from",
          field: "dated_on",
          description: "Day/month/year",
          cell: (row) => dayFirst(row.dated_on),
        },
        { header: "We do", field: "statement", description: "In words", cell: (row) => row.statement },
        {
          header: "Interval h",
          field: "interval_h",
          unit: "h",
          description: "Circulating hours between redresses",
          cell: (row) => plain(row.interval_h),
        },
        { header: "Because", field: "why", description: "Why", cell: (row) => plain(row.why) },
        { header: "Decided by", field: "decided_by", description: "Who", cell: (row) => plain(row.decided_by) },
      ],
    },
    records.decisions ?? [],
  ),
];
