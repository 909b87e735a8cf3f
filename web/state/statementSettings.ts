/** What a statement says beside its scope, as the form holds it. Pure. */
import {
  type DecimalMark,
  defaultStatement,
  type Scope,
  type ScopeChoices,
  type StatementAction,
  type StatementChange,
  type StatementDefinition,
} from "../../analysis/index.ts";

export interface StatementSettings
  extends Pick<StatementDefinition, "kind" | "audience" | "units" | "runHours" | "asked" | "masked" | "incidentRun"> {
  readonly decimalMark: DecimalMark;
  readonly serials: readonly string[];
  readonly wells: readonly string[];
  readonly change: StatementChange;
  /** Severity from which the customer counts a failure, of every mode; null: as the shop does. */
  readonly customerSeverity: number | null;
  readonly customerHours: StatementDefinition["hoursKind"];
  readonly actions: readonly StatementAction[];
}

export const usualStatement: StatementSettings = {
  ...defaultStatement(),
  decimalMark: "point",
  serials: [],
  wells: [],
  change: { what: "", on: "", countedFrom: null, appliesTo: "builds" },
  customerSeverity: null,
  customerHours: null,
};

/** The settings of a stored statement, to go on from. */
export function settingsOf(definition: StatementDefinition): StatementSettings {
  const { kind, audience, units, runHours, asked, masked, incidentRun, scope, change, customerDefinition, actions } =
    definition;
  const severities = Object.values(customerDefinition?.thresholds ?? {});
  return {
    ...usualStatement,
    ...{ kind, audience, units, runHours, asked, masked, incidentRun, actions },
    decimalMark: definition.decimalMark ?? "point",
    serials: scope.serials ?? [],
    wells: scope.wells ?? [],
    change: change ?? usualStatement.change,
    customerSeverity: severities[0] ?? null,
    customerHours: customerDefinition?.hoursKind ?? null,
  };
}

/** What is asked of the server; only what the kind of statement takes is sent. */
export function definitionOfSettings(
  settings: StatementSettings,
  scope: Scope,
  confidence: number,
  choices: ScopeChoices,
): StatementDefinition {
  const { kind, audience, units, runHours, asked, masked, incidentRun, serials, wells, change, actions, decimalMark } =
    settings;
  return {
    ...defaultStatement(),
    ...{ kind, audience, units, runHours, asked, masked, confidence },
    ...(decimalMark === "point" ? {} : { decimalMark }),
    scope: {
      ...scope,
      ...(serials.length === 0 ? {} : { serials }),
      ...(wells.length === 0 ? {} : { wells }),
    },
    customerDefinition: customerDefinitionOf(settings, choices),
    change: kind === "before and after" ? { ...change, countedFrom: change.countedFrom || null } : null,
    incidentRun: kind === "incident" ? incidentRun : null,
    actions: actions.filter(({ what }) => what.trim() !== ""),
  };
}

function customerDefinitionOf(
  { customerSeverity, customerHours }: StatementSettings,
  { toolTypes }: ScopeChoices,
): StatementDefinition["customerDefinition"] {
  if (customerSeverity === null && customerHours === null) return null;
  const modes = new Set(toolTypes.flatMap(({ items }) => items.flatMap((item) => item.modes)));
  return {
    thresholds: customerSeverity === null ? {} : Object.fromEntries([...modes].map((mode) => [mode, customerSeverity])),
    hoursKind: customerHours,
  };
}

/** What is still to be filled in before a statement of this kind can be made; null where nothing is. */
export function missingOf({ kind, change, incidentRun }: StatementSettings): string | null {
  if (kind === "before and after" && (change.what.trim() === "" || change.on === ""))
    return "Say what was changed, and on which day.";
  if (kind === "incident" && incidentRun === null) return "Choose the run that went wrong.";
  return null;
}
