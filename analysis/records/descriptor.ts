/**
 * The canonical tables: what a shop writes down, one descriptor for mapping, forms, API, docs and sample data.
 * Shape follows the Frictionless Data Package and Table Schema (specs.frictionlessdata.io, v1), an open standard.
 *
 * Units are SI except nominal size in inches, hours and Shore A. Dates are `YYYY-MM-DD`. A field that is not
 * `required` may be null: null always means "not written down", never zero and never a default.
 */

export interface FieldDescriptor {
  readonly name: string;
  readonly type: "string" | "number" | "integer" | "boolean" | "date" | "array";
  readonly title: string;
  readonly description?: string;
  readonly unit?: string;
  readonly required?: true;
  readonly enum?: readonly string[];
  readonly minimum?: number;
}

export interface TableDescriptor {
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly primaryKey: readonly string[];
  readonly foreignKeys: readonly {
    readonly fields: readonly string[];
    readonly reference: { readonly table: string; readonly fields: readonly string[] };
  }[];
  readonly fields: readonly FieldDescriptor[];
}

const table = <const T extends TableDescriptor>(descriptor: T): T => descriptor;

const toolItems = table({
  name: "tool_items",
  title: "Items of a tool type",
  description: "One item of a tool type: a seal, a joint, a stack, a pin, a guide band, a body.",
  primaryKey: ["tool_type", "item"],
  foreignKeys: [],
  fields: [
    { name: "tool_type", type: "string", title: "Tool type", required: true },
    { name: "item", type: "string", title: "Item", required: true },
    {
      name: "kind",
      type: "string",
      title: "Kind",
      required: true,
      enum: ["seal", "joint", "stack", "pin", "guide", "body"],
    },
    {
      name: "position",
      type: "number",
      title: "Position",
      description: "Order along the tool, 1 at the uphole end; used for the drawing.",
    },
    { name: "design_torque_Nm", type: "number", title: "Design torque", unit: "N·m", minimum: 0 },
    {
      name: "connection",
      type: "string",
      title: "Connection",
      description: "Connection geometry, as the shop names it.",
    },
    {
      name: "section_mm2",
      type: "number",
      title: "Smaller section",
      unit: "mm²",
      minimum: 0,
      description: "Of the pin or the box, whichever is smaller; with lead and radii it turns a torque into a stress.",
    },
    { name: "thread_lead_mm", type: "number", title: "Lead of the thread", unit: "mm", minimum: 0 },
    { name: "thread_radius_mm", type: "number", title: "Mean thread radius", unit: "mm", minimum: 0 },
    { name: "shoulder_radius_mm", type: "number", title: "Mean shoulder radius", unit: "mm", minimum: 0 },
    {
      name: "thread_half_angle",
      type: "number",
      title: "Thread half-angle",
      minimum: 0,
      description: "Half the angle between the flanks, in degrees: 30 for a 60 degree thread.",
    },
    { name: "kit", type: "string", title: "Kit", description: "Redress kit number." },
    { name: "aliases", type: "array", title: "Aliases", description: "Other words the shop uses for this item." },
  ],
});

const modes = table({
  name: "modes",
  title: "Failure modes",
  description: "A failure mode of an item: how it fails, how it is noticed, what restores it.",
  primaryKey: ["item", "mode"],
  foreignKeys: [],
  fields: [
    { name: "item", type: "string", title: "Item", required: true, description: "An item, or a kind of item." },
    { name: "mode", type: "string", title: "Mode", required: true },
    {
      name: "announces",
      type: "string",
      title: "Announces itself",
      required: true,
      enum: ["evident", "hidden"],
      description: "Evident: noticed while running. Hidden: only a teardown or test shows it.",
    },
    {
      name: "threshold",
      type: "integer",
      title: "Severity threshold",
      required: true,
      minimum: 0,
      description: "A finding of this severity or above counts as failed.",
    },
    {
      name: "restored_by",
      type: "string",
      title: "Restored by",
      required: true,
      enum: ["renewed", "made up"],
      description: "Renewed: a new item. Made up: any make-up of the joint.",
    },
    { name: "leads_to", type: "string", title: "Leads to", description: "Another mode of the same item." },
    { name: "words", type: "array", title: "The shop's words", description: "Phrases that mean this mode." },
  ],
});

const compounds = table({
  name: "compounds",
  title: "Thread compounds",
  description: "A thread compound with its friction factor against the reference compound (API RP 7A1).",
  primaryKey: ["compound"],
  foreignKeys: [],
  fields: [
    { name: "compound", type: "string", title: "Compound", required: true },
    { name: "friction_factor", type: "number", title: "Friction factor", minimum: 0 },
    { name: "source", type: "string", title: "Source of the factor" },
  ],
});

const tools = table({
  name: "tools",
  title: "Tools",
  description: "One tool serial.",
  primaryKey: ["serial"],
  foreignKeys: [],
  fields: [
    { name: "serial", type: "string", title: "Serial", required: true },
    { name: "tool_type", type: "string", title: "Tool type", required: true },
    { name: "size_in", type: "number", title: "Nominal size", unit: "in", minimum: 0 },
    { name: "entered_on", type: "date", title: "In the records since" },
    { name: "hours_at_entry", type: "number", title: "Hours at entry", unit: "h", minimum: 0 },
    {
      name: "status",
      type: "string",
      title: "Status",
      enum: ["in shop", "out", "lost in hole", "scrapped", "not known"],
    },
    { name: "status_on", type: "date", title: "Status as of" },
    { name: "location", type: "string", title: "Location" },
  ],
});

const redresses = table({
  name: "redresses",
  title: "Builds and redresses",
  description: "One build or redress of a tool.",
  primaryKey: ["redress"],
  foreignKeys: [{ fields: ["serial"], reference: { table: "tools", fields: ["serial"] } }],
  fields: [
    { name: "redress", type: "string", title: "Redress", required: true },
    { name: "serial", type: "string", title: "Serial", required: true },
    { name: "done_on", type: "date", title: "Done on", required: true },
    {
      name: "reason",
      type: "string",
      title: "Reason",
      required: true,
      enum: ["new", "planned", "failure", "upgrade", "not known"],
    },
    { name: "technician", type: "string", title: "Technician" },
    { name: "pressure_test", type: "string", title: "Pressure test", enum: ["pass", "fail", "not done"] },
    { name: "overall_length_mm", type: "number", title: "Overall length", unit: "mm", minimum: 0 },
  ],
});

const joints = table({
  name: "joints",
  title: "Joints made up",
  description: "One joint made up in a redress.",
  primaryKey: ["redress", "joint"],
  foreignKeys: [{ fields: ["redress"], reference: { table: "redresses", fields: ["redress"] } }],
  fields: [
    { name: "redress", type: "string", title: "Redress", required: true },
    { name: "joint", type: "string", title: "Joint", required: true },
    { name: "new_thread", type: "boolean", title: "New thread" },
    { name: "target_torque_Nm", type: "number", title: "Target torque", unit: "N·m", minimum: 0 },
    { name: "final_torque_Nm", type: "number", title: "Final torque", unit: "N·m", minimum: 0 },
    { name: "make_break_cycles", type: "integer", title: "Make-and-break cycles", minimum: 0 },
    { name: "compound", type: "string", title: "Thread compound" },
    { name: "threadlocker", type: "string", title: "Threadlocker" },
    { name: "shoulder_treatment", type: "string", title: "Shoulder treatment" },
    { name: "torque_tool", type: "string", title: "Torque tool" },
    { name: "calibrated_on", type: "date", title: "Torque tool calibrated on" },
  ],
});

const fittedItems = table({
  name: "fitted_items",
  title: "Items fitted",
  description: "One item as it left a redress: renewed or carried over.",
  primaryKey: ["redress", "item"],
  foreignKeys: [{ fields: ["redress"], reference: { table: "redresses", fields: ["redress"] } }],
  fields: [
    { name: "redress", type: "string", title: "Redress", required: true },
    { name: "item", type: "string", title: "Item", required: true },
    { name: "renewed", type: "boolean", title: "Renewed", required: true },
    { name: "item_serial", type: "string", title: "Item serial", description: "Carries an age into another tool." },
    {
      name: "age_at_fitting_h",
      type: "number",
      title: "Age at fitting",
      unit: "h",
      minimum: 0,
      description: "Hours the item already had, where the records do not show them.",
    },
    { name: "elastomer", type: "string", title: "Elastomer" },
    { name: "hardness_shoreA", type: "number", title: "Hardness", unit: "Shore A", minimum: 0 },
    { name: "hardness_is", type: "string", title: "Hardness is", enum: ["measured", "nominal"] },
    { name: "lot", type: "string", title: "Lot" },
    { name: "cured_on", type: "date", title: "Cured on" },
    { name: "gap_mm", type: "number", title: "Extrusion gap", unit: "mm", minimum: 0 },
    { name: "backup_ring", type: "string", title: "Backup ring" },
  ],
});

const runs = table({
  name: "runs",
  title: "Runs",
  description: "One run of a tool in a well.",
  primaryKey: ["run"],
  foreignKeys: [{ fields: ["serial"], reference: { table: "tools", fields: ["serial"] } }],
  fields: [
    { name: "run", type: "string", title: "Run", required: true },
    { name: "serial", type: "string", title: "Serial", required: true },
    { name: "out_on", type: "date", title: "Out on", required: true },
    { name: "in_on", type: "date", title: "In on", description: "Null while the tool is still out." },
    { name: "hours", type: "number", title: "Hours", unit: "h", minimum: 0 },
    {
      name: "hours_kind",
      type: "string",
      title: "Kind of hours",
      enum: ["circulating", "drilling", "below rotary"],
      description: "Kinds are never mixed.",
    },
    { name: "customer", type: "string", title: "Customer" },
    { name: "well", type: "string", title: "Well" },
    { name: "rig", type: "string", title: "Rig" },
    { name: "crew", type: "string", title: "Crew" },
    { name: "depth_m", type: "number", title: "Depth", unit: "m", minimum: 0 },
    { name: "max_temperature_C", type: "number", title: "Highest temperature", unit: "°C" },
    { name: "mud", type: "string", title: "Mud" },
    { name: "differential_pressure_MPa", type: "number", title: "Differential pressure", unit: "MPa", minimum: 0 },
    { name: "vibration_class", type: "integer", title: "Vibration class", minimum: 0 },
    { name: "vibration_g_rms", type: "number", title: "Vibration", unit: "g rms", minimum: 0 },
    {
      name: "pulled_because",
      type: "string",
      title: "Pulled because",
      required: true,
      enum: ["planned", "tool failure", "other tool", "hole problem", "lost in hole", "other", "not known"],
    },
    { name: "item_seen", type: "string", title: "Item seen failing" },
    {
      name: "mode_seen",
      type: "string",
      title: "Mode seen",
      description: "A mode, or `none` where the record says that nothing was seen.",
    },
    { name: "hour_seen", type: "number", title: "Seen at hour of the run", unit: "h", minimum: 0 },
    { name: "reported_on", type: "date", title: "Reported on" },
  ],
});

const teardowns = table({
  name: "teardowns",
  title: "Teardowns and tests",
  description: "One look at a tool in the shop.",
  primaryKey: ["teardown"],
  foreignKeys: [{ fields: ["serial"], reference: { table: "tools", fields: ["serial"] } }],
  fields: [
    { name: "teardown", type: "string", title: "Teardown", required: true },
    { name: "serial", type: "string", title: "Serial", required: true },
    { name: "done_on", type: "date", title: "Done on", required: true },
    {
      name: "why",
      type: "string",
      title: "Why",
      required: true,
      enum: ["planned", "tool failure", "other", "not known"],
    },
    { name: "scope", type: "array", title: "Scope", description: "Items the checklist covers, written down or not." },
    { name: "kind", type: "string", title: "Kind", enum: ["stripped", "pressure test", "outside only"] },
    { name: "technician", type: "string", title: "Technician" },
  ],
});

const findings = table({
  name: "findings",
  title: "Findings",
  description: "What one look found on one item: sound, or a failure mode with its severity.",
  primaryKey: ["teardown", "item", "condition"],
  foreignKeys: [{ fields: ["teardown"], reference: { table: "teardowns", fields: ["teardown"] } }],
  fields: [
    { name: "teardown", type: "string", title: "Teardown", required: true },
    { name: "item", type: "string", title: "Item", required: true },
    { name: "condition", type: "string", title: "Condition", required: true, description: "`sound`, or a mode." },
    { name: "severity", type: "integer", title: "Severity", minimum: 0, description: "0 as new to 5 critical." },
    {
      name: "caused_by",
      type: "string",
      title: "Caused by",
      description: "Another finding's mode, same teardown; `item: mode` where the item differs.",
    },
    { name: "measured", type: "number", title: "Measured" },
    { name: "measured_kind", type: "string", title: "Measured what" },
    { name: "measured_unit", type: "string", title: "Measured in" },
    { name: "breakout_torque_Nm", type: "number", title: "Breakout torque", unit: "N·m", minimum: 0 },
    { name: "disposition", type: "string", title: "Disposition" },
    { name: "cause", type: "string", title: "Cause", description: "`not yet determined` until known." },
    { name: "photo", type: "string", title: "Photo reference" },
    { name: "note", type: "string", title: "Note" },
  ],
});

const plannedRuns = table({
  name: "planned_runs",
  title: "Planned runs",
  description: "One job that a tool is meant to go out for.",
  primaryKey: ["serial", "start_on"],
  foreignKeys: [{ fields: ["serial"], reference: { table: "tools", fields: ["serial"] } }],
  fields: [
    { name: "serial", type: "string", title: "Serial", required: true },
    { name: "start_on", type: "date", title: "Starts on", required: true },
    { name: "hours", type: "number", title: "Planned hours", unit: "h", minimum: 0 },
    {
      name: "max_temperature_C",
      type: "number",
      title: "Expected temperature",
      unit: "°C",
      description: "The highest expected in the well.",
    },
    { name: "customer", type: "string", title: "Customer" },
    { name: "well", type: "string", title: "Well" },
    { name: "note", type: "string", title: "Note" },
  ],
});

const stock = table({
  name: "stock",
  title: "Kits in stock",
  description: "Redress kits on the shelf and how long more of them take to come.",
  primaryKey: ["kit"],
  foreignKeys: [],
  fields: [
    { name: "kit", type: "string", title: "Kit", required: true, description: "Redress kit number, as items name it." },
    { name: "on_hand", type: "integer", title: "On hand", minimum: 0, description: "Kits on the shelf when counted." },
    {
      name: "lead_time_d",
      type: "number",
      title: "Lead time",
      unit: "d",
      minimum: 0,
      description: "Calendar days from order to shelf.",
    },
    { name: "counted_on", type: "date", title: "Counted on" },
    { name: "note", type: "string", title: "Note" },
  ],
});

const costs = table({
  name: "costs",
  title: "Costs",
  description: "What something costs the shop, from a date on: the latest row that is not after a day holds on it.",
  primaryKey: ["what", "tool_type", "dated_on"],
  foreignKeys: [],
  fields: [
    {
      name: "what",
      type: "string",
      title: "What",
      required: true,
      enum: [
        "planned redress",
        "redress after failure",
        "failure downhole",
        "tool lost in hole",
        "teardown",
        "rig day",
        "other",
      ],
      description:
        "Planned redress: kits and labour. Failure downhole: trip and lost time, the redress after it not counted.",
    },
    { name: "tool_type", type: "string", title: "Tool type", required: true, description: "A tool type, or `all`." },
    { name: "dated_on", type: "date", title: "Holds from", required: true },
    { name: "amount", type: "number", title: "Amount", required: true, minimum: 0 },
    { name: "currency", type: "string", title: "Currency", required: true, description: "Three letters, as ISO 4217." },
    { name: "note", type: "string", title: "Note" },
  ],
});

const decisions = table({
  name: "decisions",
  title: "Decisions",
  description: "What the shop decided, from a date on: from this date we redress at 150 h.",
  primaryKey: ["tool_type", "item", "dated_on"],
  foreignKeys: [],
  fields: [
    { name: "tool_type", type: "string", title: "Tool type", required: true },
    {
      name: "item",
      type: "string",
      title: "Item",
      required: true,
      description: "An item of the tool type, or `whole tool`.",
    },
    { name: "dated_on", type: "date", title: "Holds from", required: true },
    { name: "statement", type: "string", title: "Statement", required: true },
    { name: "interval_h", type: "number", title: "Interval", unit: "h", minimum: 0 },
    { name: "why", type: "string", title: "Why" },
    { name: "decided_by", type: "string", title: "Decided by" },
  ],
});

export const tableDescriptors = {
  tool_items: toolItems,
  modes,
  compounds,
  tools,
  redresses,
  joints,
  fitted_items: fittedItems,
  runs,
  teardowns,
  findings,
  planned_runs: plannedRuns,
  stock,
  costs,
  decisions,
} as const;

export type TableName = keyof typeof tableDescriptors;
export const tableNames = Object.keys(tableDescriptors) as TableName[];

type ValueOf<F extends FieldDescriptor> = F extends { enum: readonly (infer E)[] }
  ? E
  : F["type"] extends "string" | "date"
    ? string
    : F["type"] extends "number" | "integer"
      ? number
      : F["type"] extends "boolean"
        ? boolean
        : readonly string[];
type FieldsOf<T extends TableName> = (typeof tableDescriptors)[T]["fields"][number];
type Simplify<T> = { readonly [K in keyof T]: T[K] };

/** A canonical row. Required fields are present; any other may be null or left out, both meaning "not written down". */
export type Row<T extends TableName> = Simplify<
  { [F in FieldsOf<T> as F extends { required: true } ? F["name"] : never]: ValueOf<F> } & {
    [F in FieldsOf<T> as F extends { required: true } ? never : F["name"]]?: ValueOf<F> | null;
  }
>;

/** All canonical tables, rows in any order. A table left out has no rows. */
export type Records = { readonly [T in TableName]?: readonly Row<T>[] };

/** A row by table and natural key. `key` is made by `keyOf`. */
export interface RowRef {
  readonly table: TableName;
  readonly key: string;
}

/**
 * Natural key of a row as one text: the key fields as a JSON array, so no separator can collide with a value.
 * Example: `keyOf("joints", { redress: "R1", joint: "J1" })` is `["R1","J1"]`.
 */
export function keyOf<T extends TableName>(name: T, row: Row<T>): string {
  const values = row as Readonly<Record<string, unknown>>;
  return JSON.stringify(tableDescriptors[name].primaryKey.map((field) => values[field] ?? null));
}
