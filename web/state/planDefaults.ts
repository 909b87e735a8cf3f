/** What a plan, a count, a cost or a decision starts from, and why: what was written last and what the records know. Pure. */
import type { ScopeChoices } from "../../analysis/index.ts";
import type { FormTable } from "./formTables.ts";
import type { Started } from "./rowDefaults.ts";

export const planTables = ["planned_runs", "stock", "costs", "decisions"] as const satisfies readonly FormTable[];
export type PlanTable = (typeof planTables)[number];

/** What is asked of somebody who writes one row of the table. */
export const planQuestions: { readonly [T in PlanTable]: string } = {
  planned_runs: "A job to come",
  stock: "Kits counted on the shelf",
  costs: "What something costs from a date on",
  decisions: "What was decided, from a date on",
};

export interface KnownPlans {
  readonly today: string;
  /** The rows of the table. */
  readonly rows: readonly Readonly<Record<string, unknown>>[];
  readonly choices: ScopeChoices;
  /** Kits that the items of the tool types name. */
  readonly kits: readonly string[];
}

/** Dates start at today, a currency at the one used last; what a shop may choose from is on offer. */
export function newPlan(table: PlanTable, { today, rows, choices, kits }: KnownPlans): Started {
  const written = (field: string) => unique(rows.map((row) => row[field]).reverse());
  const toolTypes = choices.toolTypes.map(({ toolType }) => toolType);
  switch (table) {
    case "planned_runs":
      return {
        values: {},
        because: {},
        choices: {
          serial: choices.serials.map(({ serial }) => serial),
          customer: choices.customers,
          well: written("well"),
        },
      };
    case "stock":
      return {
        values: { counted_on: today },
        because: { counted_on: "today" },
        choices: { kit: unique([...kits, ...written("kit")]) },
      };
    case "costs": {
      const [last] = [...rows].sort((a, b) => (String(a.dated_on) < String(b.dated_on) ? 1 : -1));
      return {
        values: { dated_on: today, currency: last?.currency ?? null },
        because: { dated_on: "today", currency: "as in the cost dated last" },
        choices: { tool_type: [...toolTypes, "all"], currency: written("currency") },
      };
    }
    case "decisions": {
      const items = choices.toolTypes.flatMap((type) => type.items.map(({ item }) => item));
      return {
        values: { dated_on: today },
        because: { dated_on: "today" },
        choices: {
          tool_type: toolTypes,
          item: unique(["whole tool", ...items]),
          decided_by: written("decided_by"),
        },
      };
    }
  }
}

const unique = (values: readonly unknown[]): readonly string[] => [
  ...new Set(values.filter((value) => typeof value === "string" && value !== "").map(String)),
];
