/** A place in the page, and the address that names it. Pure: an address can be shared, bookmarked and tested. */
import {
  type AuditRule,
  auditRules,
  type BoundsChoice,
  type DecisionSettings,
  type LawChoice,
  lawChoices,
  type PracticeChoice,
  practices,
  readShape,
  type Scope,
  type SettlingGoal,
  type ShapeChoice,
  type StudyDefinition,
  type TableName,
  tableNames,
  writeShape,
} from "../../analysis/index.ts";
import { readDecision, writeDecision } from "./decision.ts";

export type ViewName =
  | "what-fails"
  | "item-life"
  | "practice"
  | "tool-history"
  | "interval"
  | "fleet"
  | "statement"
  | "records"
  | "drop"
  | "audit";

export interface Settings {
  /** Age in hours at which reliability is stated; null lets the study take the median length of a life. */
  readonly statedAge: number | null;
  readonly confidence: number;
  readonly missingHours: StudyDefinition["missingHours"];
  /** Rows that the audit doubts and nobody has settled: counted as they are, or left out to see the difference. */
  readonly openAudit: "used" | "left out";
  /** Law that a life is read from. */
  readonly law: LawChoice;
  /** How its bounds are had; null: as the lives ask for. */
  readonly bounds: BoundsChoice | null;
  readonly sides: "both" | "lower";
  /** A Weibull shape from elsewhere; null: from the lives alone. */
  readonly shape: ShapeChoice | null;
}

/** One kind of doubt: a rule, where it struck. */
export interface DoubtKind {
  readonly rule: AuditRule;
  readonly table: TableName;
  /** Null: rows as a whole. */
  readonly column: string | null;
}

export interface Place {
  readonly view: ViewName;
  readonly scope: Scope;
  readonly settings: Settings;
  /** Serial whose history is shown; separate from `scope.serial`, which narrows every question. */
  readonly serial: string | null;
  /** Drop being looked at, where there is one. */
  readonly drop: string | null;
  /** What is being written down: "finding", "run", "redress", "plan" at a tool; "fix" with the row; a table under Records, or "new" with it. */
  readonly form: string | null;
  /** Costs and allowed risk, in the views that decide. */
  readonly decision?: DecisionSettings;
  /** The kind of doubt being answered; null shows all kinds. */
  readonly doubt: DoubtKind | null;
  /** The comparison of build practice looked at closely; null is the first of the list. */
  readonly closely: PracticeChoice | null;
  /** What a trial of that comparison is to find; null where nobody asked how much it takes. */
  readonly settle: SettlingGoal | null;
  /** Numbers typed into the torque figures, by the name of their field. */
  readonly figures: Readonly<Record<string, string>>;
}

export const wholeFleet: Scope = {
  toolType: null,
  sizeIn: null,
  item: null,
  mode: null,
  serial: null,
  customer: null,
  from: null,
  to: null,
};
export const usualSettings: Settings = {
  statedAge: null,
  confidence: 0.9,
  missingHours: "shop rate",
  openAudit: "used",
  law: "weibull",
  bounds: null,
  sides: "both",
  shape: null,
};
export const boundsChoices = ["likelihood ratio", "by serial", "Wald"] as const satisfies readonly BoundsChoice[];
export const missingHoursChoices = ["shop rate", "averaged", "all low", "all high", "left out"] as const;

const views: readonly ViewName[] = [
  "what-fails",
  "item-life",
  "practice",
  "tool-history",
  "interval",
  "fleet",
  "statement",
  "records",
  "drop",
  "audit",
];
const scopeParameters = {
  toolType: "type",
  sizeIn: "size",
  item: "item",
  mode: "mode",
  serial: "serial",
  customer: "customer",
  from: "from",
  to: "to",
} as const;

/** Reads an address. What it cannot read is left out, never guessed: an unknown view is the first question. */
export function readAddress(path: string, search: string): Place {
  const [first = "", second = ""] = path.split("/").filter(Boolean).map(decodeSafely);
  const underRecords = second === "drop" || second === "audit" ? second : "records";
  const view = first === "records" ? underRecords : (views.find((name) => name === first) ?? "what-fails");
  const parameters = new URLSearchParams(search);
  const text = (key: keyof typeof scopeParameters) => parameters.get(scopeParameters[key])?.trim() || null;
  return {
    view,
    scope: {
      toolType: text("toolType"),
      sizeIn: numberOf(parameters.get("size"), (value) => value > 0),
      item: text("item"),
      mode: text("mode"),
      serial: text("serial"),
      customer: text("customer"),
      from: dateOf(text("from")),
      to: dateOf(text("to")),
    },
    settings: {
      statedAge: numberOf(parameters.get("age"), (value) => value > 0),
      confidence:
        numberOf(parameters.get("confidence"), (value) => value > 0.5 && value < 1) ?? usualSettings.confidence,
      missingHours:
        missingHoursChoices.find((choice) => choice === parameters.get("missing")) ?? usualSettings.missingHours,
      openAudit: parameters.get("audit") === "left out" ? "left out" : "used",
      law: lawChoices.find((choice) => choice === parameters.get("law")) ?? usualSettings.law,
      bounds: boundsChoices.find((choice) => choice === parameters.get("bounds")) ?? null,
      sides: parameters.get("sides") === "lower" ? "lower" : "both",
      shape: readShape(parameters.get("shape") ?? ""),
    },
    serial: view === "tool-history" && second !== "" ? second : null,
    drop: view === "drop" ? parameters.get("drop") : null,
    form: hasForms(view) ? parameters.get("form") : null,
    ...(decides(view) ? { decision: readDecision(parameters) } : {}),
    doubt: view === "audit" ? doubtOf(parameters) : null,
    closely: view === "practice" ? choiceOf(parameters) : null,
    settle: view === "practice" ? goalOf(parameters) : null,
    figures: view === "practice" ? figuresOf(parameters) : {},
  };
}

/** The address of a place: only what differs from the usual is written, in a fixed order, so equal places have equal addresses. */
export function writeAddress(place: Place): string {
  const parameters = writeQuestion(place);
  if (place.view === "drop" && place.drop !== null) parameters.set("drop", place.drop);
  if (hasForms(place.view) && place.form !== null) parameters.set("form", place.form);
  if (decides(place.view) && place.decision !== undefined) writeDecision(place.decision, parameters);
  if (place.view === "audit" && place.doubt !== null) {
    const { rule, table, column } = place.doubt;
    parameters.set("rule", rule);
    parameters.set("table", table);
    if (column !== null) parameters.set("column", column);
  }
  if (place.view === "practice") {
    for (const [name, value] of writeChoice(place.closely)) parameters.set(name, value);
    for (const [name, value] of writeGoal(place.settle)) parameters.set(name, value);
    for (const [name, value] of Object.entries(place.figures))
      if (value !== "") parameters.set(`${FIGURE}${name}`, value);
  }
  const search = parameters.toString();
  return `${pathOf(place)}${search === "" ? "" : `?${search}`}`;
}

/** A scope as query parameters: the same names in the page's addresses and the server's. */
export function writeScope(scope: Scope): URLSearchParams {
  const parameters = new URLSearchParams();
  for (const key of Object.keys(scopeParameters) as (keyof typeof scopeParameters)[]) {
    const value = scope[key];
    if (value !== null) parameters.set(scopeParameters[key], String(value));
  }
  return parameters;
}

/** Scope and settings as query parameters. */
export function writeQuestion({ scope, settings }: Pick<Place, "scope" | "settings">): URLSearchParams {
  const parameters = writeScope(scope);
  const { statedAge, confidence, missingHours, openAudit, law, bounds, sides, shape } = settings;
  if (statedAge !== null) parameters.set("age", String(statedAge));
  if (confidence !== usualSettings.confidence) parameters.set("confidence", String(confidence));
  if (missingHours !== usualSettings.missingHours) parameters.set("missing", missingHours);
  if (openAudit !== usualSettings.openAudit) parameters.set("audit", openAudit);
  if (law !== usualSettings.law) parameters.set("law", law);
  if (bounds !== null) parameters.set("bounds", bounds);
  if (sides !== usualSettings.sides) parameters.set("sides", sides);
  if (shape !== null) parameters.set("shape", writeShape(shape));
  return parameters;
}

function pathOf({ view, serial }: Place): string {
  if (view === "drop" || view === "audit") return `/records/${view}`;
  if (view === "tool-history" && serial !== null) return `/tool-history/${encodeURIComponent(serial)}`;
  return `/${view}`;
}

const decides = (view: ViewName): boolean => view === "interval" || view === "fleet";

const FIGURE = "figure-";

function figuresOf(parameters: URLSearchParams): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...parameters].flatMap(([name, value]) =>
      name.startsWith(FIGURE) && value.trim() !== "" ? [[name.slice(FIGURE.length), value.slice(0, 40)]] : [],
    ),
  );
}

/** A comparison as query parameters: the same names in the page's addresses and the server's. */
export function writeChoice(choice: PracticeChoice | null): URLSearchParams {
  const parameters = new URLSearchParams();
  if (choice === null) return parameters;
  parameters.set("practice", choice.practice);
  if (choice.level !== null) parameters.set("level", choice.level);
  parameters.set("of", choice.item);
  parameters.set("by", choice.mode);
  return parameters;
}

/** A practice that does not exist, or half a name, is left out: the first comparison is looked at then. */
function choiceOf(parameters: URLSearchParams): PracticeChoice | null {
  const practice = practices.find(({ id }) => id === parameters.get("practice"));
  const [item, mode] = [parameters.get("of"), parameters.get("by")];
  if (practice === undefined || !item || !mode) return null;
  return { practice: practice.id, level: parameters.get("level") || null, item, mode };
}

/** What a trial is to find as query parameters: the same names in the page's addresses and the server's. */
export function writeGoal(goal: SettlingGoal | null): URLSearchParams {
  if (goal === null) return new URLSearchParams();
  const { multiplier, power, shape } = goal;
  return new URLSearchParams({
    find: String(multiplier),
    chance: String(power),
    ...(shape === null ? {} : { assume: String(shape) }),
  });
}

function goalOf(parameters: URLSearchParams): SettlingGoal | null {
  const multiplier = numberOf(parameters.get("find"), (value) => value >= 0.1 && value <= 10 && value !== 1);
  const power = numberOf(parameters.get("chance"), (value) => value >= 0.5 && value < 1);
  const shape = numberOf(parameters.get("assume"), (value) => value >= 0.2 && value <= 10);
  return multiplier === null || power === null ? null : { multiplier, power, shape };
}

/** A rule or table that does not exist is left out: all kinds are shown then. */
function doubtOf(parameters: URLSearchParams): DoubtKind | null {
  const rule = auditRules.find((name) => name === parameters.get("rule"));
  const table = tableNames.find((name) => name === parameters.get("table"));
  return rule === undefined || table === undefined ? null : { rule, table, column: parameters.get("column") || null };
}

const hasForms = (view: ViewName): boolean => view === "tool-history" || view === "records";

function decodeSafely(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

function numberOf(text: string | null, accepts: (value: number) => boolean): number | null {
  if (text === null || text.trim() === "") return null;
  const value = Number(text);
  return Number.isFinite(value) && accepts(value) ? value : null;
}

function dateOf(text: string | null): string | null {
  return text !== null && /^\d{4}-\d{2}-\d{2}$/.test(text) ? text : null;
}
