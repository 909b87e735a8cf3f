/** The run log and the teardown findings: one line a run, one line a finding. */
import { group } from "d3-array";
import { keyOf, type Records, type Row } from "../../../analysis/records/descriptor.ts";
import type { ColumnRule } from "../../../analysis/records/mapping.ts";
import { dayFirst, delimitedText, plain, whole } from "./delimited.ts";
import { commaFormat } from "./listSheet.ts";
import { type Draw, randomStream } from "./random.ts";
import { placeOf, type SheetHeader, type SheetText } from "./sheetTypes.ts";
import { feet, footPounds, psi } from "./shopUnits.ts";
import { pulledWords, shopWords, teardownWhyWords } from "./shopWords.ts";

interface LogColumn<R> {
  readonly header: SheetHeader;
  readonly field: string;
  readonly rule?: Omit<ColumnRule, "from">;
  readonly cell: (row: R) => string;
}

const rulesOf = <R>(columns: readonly LogColumn<R>[]): Record<string, ColumnRule> =>
  Object.fromEntries(columns.map(({ field, header, rule }) => [field, { from: header.name, ...rule }]));

/** The shop has several phrases for one thing; the first is the most frequent. */
const phrase = (draw: Draw, phrases: readonly string[] | undefined, otherwise: string): string =>
  phrases === undefined || phrases.length === 0
    ? otherwise
    : draw.chance(0.6)
      ? (phrases[0] ?? otherwise)
      : draw.pick(phrases);

export function runLog(records: Records, seed: number, aliases: ReadonlyMap<string, readonly string[]>): SheetText {
  const draw = randomStream(seed, "words/runs");
  const columns: readonly LogColumn<Row<"runs">>[] = [
    { header: { name: "Run", description: "Run number" }, field: "run", cell: (run) => run.run },
    { header: { name: "Serial", description: "Tool" }, field: "serial", cell: (run) => run.serial },
    { header: { name: "Out", description: "Day/month/year" }, field: "out_on", cell: (run) => dayFirst(run.out_on) },
    {
      header: { name: "Back", description: "Day/month/year; blank while out" },
      field: "in_on",
      cell: (run) => dayFirst(run.in_on),
    },
    {
      header: { name: "Circ hrs", description: "Circulating hours", unit: "h" },
      field: "hours",
      cell: (run) => (run.hours == null ? "" : `${run.hours} h`),
    },
    { header: { name: "Customer", description: "Invented" }, field: "customer", cell: (run) => plain(run.customer) },
    { header: { name: "Well", description: "Invented" }, field: "well", cell: (run) => plain(run.well) },
    { header: { name: "Rig", description: "Invented" }, field: "rig", cell: (run) => plain(run.rig) },
    { header: { name: "Crew", description: "Field crew" }, field: "crew", cell: (run) => plain(run.crew) },
    {
      header: { name: "Depth ft", description: "Measured depth", unit: "ft" },
      field: "depth_m",
      rule: { unit: "ft" },
      cell: (run) => whole(run.depth_m, feet(1)),
    },
    {
      header: { name: "BHT degF", description: "Highest temperature", unit: "degF" },
      field: "max_temperature_C",
      rule: { unit: "°F" },
      cell: (run) => (run.max_temperature_C == null ? "" : String(Math.round(run.max_temperature_C * 1.8 + 32))),
    },
    { header: { name: "Mud", description: "Base of the mud" }, field: "mud", cell: (run) => plain(run.mud) },
    {
      header: { name: "dP psi", description: "Differential pressure", unit: "psi" },
      field: "differential_pressure_MPa",
      rule: { unit: "psi" },
      cell: (run) => whole(run.differential_pressure_MPa, psi(1)),
    },
    {
      header: { name: "Vib class", description: "0 to 3" },
      field: "vibration_class",
      cell: (run) => plain(run.vibration_class),
    },
    {
      header: { name: "Why pulled", description: "The field's own words" },
      field: "pulled_because",
      rule: { words: "pulled because" },
      cell: (run) => phrase(draw, pulledWords[run.pulled_because], ""),
    },
    {
      header: { name: "Part blamed", description: "Item seen failing" },
      field: "item_seen",
      rule: { words: "items" },
      cell: (run) =>
        run.item_seen ? phrase(draw, [run.item_seen, ...(aliases.get(run.item_seen) ?? [])], run.item_seen) : "",
    },
    {
      header: { name: "What was seen", description: "Mode seen" },
      field: "mode_seen",
      rule: { words: "conditions" },
      cell: (run) => (run.mode_seen ? phrase(draw, shopWords[run.mode_seen], run.mode_seen) : ""),
    },
    {
      header: { name: "At hour", description: "Hour of the run", unit: "h" },
      field: "hour_seen",
      cell: (run) => plain(run.hour_seen),
    },
    {
      header: { name: "Report in", description: "Day/month/year on which the report came" },
      field: "reported_on",
      cell: (run) => dayFirst(run.reported_on),
    },
  ];
  const runs = records.runs ?? [];
  const delimiter = ";";
  const cells = runs.map((run) => columns.map((column) => column.cell(run)));
  const { text, firstLine } = delimitedText(
    [],
    columns.map(({ header }) => header.name),
    cells,
    delimiter,
  );
  return {
    file: "run_log.csv",
    title: "Run log",
    text,
    format: { ...commaFormat, delimiter, dateOrder: { Out: "dmy", Back: "dmy", "Report in": "dmy" } },
    headers: columns.map(({ header }) => header),
    tables: [{ table: "runs", columns: { ...rulesOf(columns), hours_kind: { constant: "circulating" } } }],
    addRows: [],
    places: new Map(runs.map((row, index) => [placeOf({ table: "runs", key: keyOf("runs", row) }), firstLine + index])),
    headerOf: (_row, name) => columns.find((column) => column.field === name)?.header.name ?? null,
  };
}

type Line = { readonly teardown: Row<"teardowns">; readonly finding: Row<"findings"> | null };

export function teardownFindings(
  records: Records,
  seed: number,
  aliases: ReadonlyMap<string, readonly string[]>,
): SheetText {
  const draw = randomStream(seed, "words/findings");
  const condition = (name: string) => phrase(draw, shopWords[name], name);
  const ofTeardown: readonly LogColumn<Line>[] = [
    {
      header: { name: "Teardown no", description: "Teardown; repeated on each line" },
      field: "teardown",
      cell: ({ teardown }) => teardown.teardown,
    },
    { header: { name: "Serial", description: "Tool" }, field: "serial", cell: ({ teardown }) => teardown.serial },
    {
      header: { name: "Date", description: "Day/month/year" },
      field: "done_on",
      cell: ({ teardown }) => dayFirst(teardown.done_on),
    },
    {
      header: { name: "Came in as", description: "Why the teardown was done" },
      field: "why",
      rule: { words: "teardown why" },
      cell: ({ teardown }) => teardownWhyWords[teardown.why],
    },
    {
      header: { name: "Kind", description: "Strip, or outside look" },
      field: "kind",
      rule: { words: "teardown kind" },
      cell: ({ teardown }) => (teardown.kind === "stripped" ? "strip" : "outside look"),
    },
    {
      header: { name: "Checklist covers", description: "Items opened and looked at" },
      field: "scope",
      rule: { words: "items" },
      cell: ({ teardown }) => (teardown.scope ?? []).join("; "),
    },
    {
      header: { name: "Tech", description: "Technician" },
      field: "technician",
      cell: ({ teardown }) => plain(teardown.technician),
    },
  ];
  const ofFinding: readonly LogColumn<Line>[] = [
    {
      header: { name: "Part", description: "Item" },
      field: "item",
      rule: { words: "items" },
      cell: ({ finding }) =>
        finding ? phrase(draw, [finding.item, ...(aliases.get(finding.item) ?? [])], finding.item) : "",
    },
    {
      header: { name: "Found", description: "The shop's own words" },
      field: "condition",
      rule: { words: "conditions" },
      cell: ({ finding }) => (finding ? condition(finding.condition) : ""),
    },
    {
      header: { name: "Sev", description: "Severity 0 to 5" },
      field: "severity",
      cell: ({ finding }) => plain(finding?.severity),
    },
    {
      header: { name: "Because of", description: "Finding that brought it" },
      field: "caused_by",
      rule: { words: "conditions" },
      cell: ({ finding }) => (finding?.caused_by ? condition(finding.caused_by) : ""),
    },
    {
      header: { name: "Measured", description: "Value measured" },
      field: "measured",
      cell: ({ finding }) => plain(finding?.measured),
    },
    {
      header: { name: "Of", description: "What was measured" },
      field: "measured_kind",
      cell: ({ finding }) => plain(finding?.measured_kind),
    },
    {
      header: { name: "In", description: "Unit of the measure" },
      field: "measured_unit",
      cell: ({ finding }) => plain(finding?.measured_unit),
    },
    {
      header: { name: "Breakout ft-lbf", description: "Breakout torque", unit: "ft-lbf" },
      field: "breakout_torque_Nm",
      rule: { unit: "ft-lbf" },
      cell: ({ finding }) => whole(finding?.breakout_torque_Nm, footPounds(1)),
    },
    {
      header: { name: "Action", description: "Disposition" },
      field: "disposition",
      cell: ({ finding }) => plain(finding?.disposition),
    },
    {
      header: { name: "Cause", description: "Not yet determined until known" },
      field: "cause",
      cell: ({ finding }) => plain(finding?.cause),
    },
    {
      header: { name: "Photo", description: "Photo reference" },
      field: "photo",
      cell: ({ finding }) => plain(finding?.photo),
    },
  ];
  const byTeardown = group(records.findings ?? [], (finding) => finding.teardown);
  const lines: readonly Line[] = (records.teardowns ?? []).flatMap((teardown): readonly Line[] => {
    const findings = byTeardown.get(teardown.teardown) ?? [];
    return findings.length === 0 ? [{ teardown, finding: null }] : findings.map((finding) => ({ teardown, finding }));
  });
  const columns = [...ofTeardown, ...ofFinding];
  const cells = lines.map((line) => columns.map((column) => column.cell(line)));
  const before = [
    "# Nowhere Yard tool shop (INVENTED), teardown findings",
    "# severity 0 as new ... 3 major ... 5 critical",
  ];
  const { text, firstLine } = delimitedText(
    before,
    columns.map(({ header }) => header.name),
    cells,
    ",",
  );
  const places = new Map<string, number>();
  for (const [index, { teardown, finding }] of lines.entries()) {
    const place = placeOf({ table: "teardowns", key: keyOf("teardowns", teardown) });
    if (!places.has(place)) places.set(place, firstLine + index);
    if (finding) places.set(placeOf({ table: "findings", key: keyOf("findings", finding) }), firstLine + index);
  }
  return {
    file: "teardown_findings.csv",
    title: "Teardown findings",
    text,
    format: { ...commaFormat, comment: "#", dateOrder: { Date: "dmy" } },
    headers: columns.map(({ header }) => header),
    tables: [
      { table: "teardowns", columns: rulesOf(ofTeardown), repeated: true },
      {
        table: "findings",
        columns: { teardown: { from: "Teardown no" }, ...rulesOf(ofFinding) },
        unlessBlank: ["item", "condition"],
      },
    ],
    addRows: [],
    places,
    headerOf: (row, name) =>
      (row.table === "teardowns" ? ofTeardown : ofFinding).find((column) => column.field === name)?.header.name ?? null,
  };
}
