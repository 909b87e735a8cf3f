/**
 * What the shop plans and decided: jobs to come, kits on the shelf, what things cost, how it redresses today. Nothing here
 * acts on a life. All figures are invented.
 */
import type { Records, Row } from "../../../analysis/records/descriptor.ts";
import { dateOf, dayOf } from "./days.ts";
import type { FleetOptions } from "./options.ts";
import { randomStream } from "./random.ts";
import { customers } from "./runTool.ts";
import { fahrenheit } from "./shopUnits.ts";
import { practiceTruths } from "./truth.ts";

type Plans = Required<Pick<Records, "planned_runs" | "stock" | "costs" | "decisions">>;

/** @param tools  as they stand at the end of the records: a tool in the shop may go out again. */
export function shopPlans(options: FleetOptions, tools: readonly Row<"tools">[]): Plans {
  return {
    planned_runs: plannedRuns(options, tools),
    stock: stockOn(options.to),
    costs: [...costsFrom("2023-01-01", 1), ...costsFrom("2025-07-01", 1.1)],
    decisions: [
      {
        tool_type: "axial damper",
        item: "whole tool",
        dated_on: "2023-01-01",
        statement: "Redress when 200 circulating hours are reached, at the next return to the yard.",
        interval_h: 200,
        why: "Practice of the yard since before these records; no study behind it.",
        decided_by: "yard",
      },
    ],
  };
}

/** Within six weeks of the end of the records about two in three tools in the shop have a job, some a second one. */
function plannedRuns({ seed, to }: FleetOptions, tools: readonly Row<"tools">[]): readonly Row<"planned_runs">[] {
  const draw = randomStream(seed, "planned runs");
  const { runHours, temperatureF } = practiceTruths;
  return tools
    .filter(({ status }) => status === "in shop")
    .flatMap(({ serial }) => {
      const first = draw.integer(2, 24);
      const jobs = draw.chance(0.35) ? 0 : draw.chance(0.25) ? 2 : 1;
      return Array.from({ length: jobs }, (_, index): Row<"planned_runs"> => {
        const hours = Math.exp(Math.log(runHours.median) + draw.normal(0, runHours.logSd));
        const degrees = Math.round(draw.normal(temperatureF.mean, temperatureF.sd) / 5) * 5;
        return {
          serial,
          start_on: dateOf(dayOf(to) + first + 18 * index),
          hours: Math.min(runHours.to, Math.max(runHours.from, Math.round(hours / 5) * 5)),
          max_temperature_C: fahrenheit(Math.min(temperatureF.to, Math.max(temperatureF.from, degrees))),
          customer: draw.pick(customers),
          well: `W-${draw.integer(100, 899)}`,
          note: null,
        };
      });
    })
    .sort((a, b) => (a.start_on < b.start_on ? -1 : a.start_on > b.start_on ? 1 : a.serial < b.serial ? -1 : 1));
}

const stockOn = (counted_on: string): readonly Row<"stock">[] => [
  { kit: "K-AD-1", on_hand: 14, lead_time_d: 35, counted_on, note: null },
  { kit: "K-AD-2", on_hand: 9, lead_time_d: 42, counted_on, note: null },
  { kit: "K-AD-3", on_hand: 3, lead_time_d: 70, counted_on, note: "made to order" },
  { kit: "K-BV-1", on_hand: 6, lead_time_d: 35, counted_on, note: null },
];

/** Round figures, raised once: a study of the past takes the costs of its time. */
function costsFrom(dated_on: string, raised: number): readonly Row<"costs">[] {
  const cost = (what: Row<"costs">["what"], tool_type: string, amount: number): Row<"costs"> => ({
    what,
    tool_type,
    dated_on,
    amount: Math.round(amount * raised),
    currency: "USD",
    note: null,
  });
  return [
    cost("planned redress", "axial damper", 6000),
    cost("redress after failure", "axial damper", 8500),
    cost("failure downhole", "axial damper", 60000),
    cost("planned redress", "bypass valve", 4000),
    cost("redress after failure", "bypass valve", 5500),
    cost("failure downhole", "bypass valve", 45000),
    cost("tool lost in hole", "all", 180000),
  ];
}
