/** What a new row starts from, and why: what the shop wrote last, never a guess at what happened. Pure. */
import type { Row, ToolHistoryResult } from "../../analysis/index.ts";
import { freeName } from "./teardownAtHand.ts";

export interface Started {
  readonly values: Readonly<Record<string, unknown>>;
  /** Where a value comes from, by field. */
  readonly because: Readonly<Record<string, string>>;
  /** Values on offer, by field. */
  readonly choices: Readonly<Record<string, readonly string[]>>;
}

/** A run of a serial: back in today; the kind of hours, customer and rig as in the run before, on offer. */
export function newRun({ tool, events, items, lives }: ToolHistoryResult, today: string): Started {
  const runs = events.flatMap(({ event }) => (event.kind === "run" ? [event.run] : []));
  const last = runs.at(-1);
  const known = (field: "customer" | "well" | "rig" | "crew" | "mud") =>
    unique(runs.map((run) => run[field] ?? null).reverse());
  return {
    values: {
      run: freeName(`${tool.serial} ${today}`, new Set(runs.map(({ run }) => run))),
      serial: tool.serial,
      in_on: today,
      hours_kind: last?.hours_kind ?? null,
      customer: last?.customer ?? null,
      rig: last?.rig ?? null,
    },
    because: {
      run: "proposed; type the shop's own number",
      in_on: "today",
      hours_kind: "as in the run before",
      customer: "as in the run before",
      rig: "as in the run before",
    },
    choices: {
      customer: known("customer"),
      well: known("well"),
      rig: known("rig"),
      crew: known("crew"),
      mud: known("mud"),
      item_seen: items.map(({ item }) => item),
      mode_seen: unique(["none", ...lives.map(({ mode }) => mode)]),
    },
  };
}

/** A redress of a serial: today, for the reason the last teardown gives, by who did the one before. */
export function newRedress({ tool, events }: ToolHistoryResult, today: string): Started {
  const redresses = events.flatMap(({ event }) => (event.kind === "redress" ? [event.redress] : []));
  const look = events.findLast(({ event }) => event.kind === "teardown")?.event;
  const last = redresses.at(-1);
  const why = look?.kind === "teardown" ? look.teardown.why : null;
  const reason: Row<"redresses">["reason"] =
    last === undefined ? "new" : why === "tool failure" ? "failure" : why === "planned" ? "planned" : "not known";
  return {
    values: {
      redress: freeName(`${tool.serial} ${today}`, new Set(redresses.map(({ redress }) => redress))),
      serial: tool.serial,
      done_on: today,
      reason,
      technician: last?.technician ?? null,
    },
    because: {
      redress: "proposed; type the shop's own number",
      done_on: "today",
      reason: last === undefined ? "the first one written down" : "as the last teardown says",
      technician: "as at the redress before",
    },
    choices: { technician: unique(redresses.map(({ technician }) => technician ?? null).reverse()) },
  };
}

/** One item at a redress: renewed or carried over; a joint made up or left. */
export interface ItemAtRedress {
  readonly item: string;
  readonly kind: Row<"tool_items">["kind"];
  readonly renewed: boolean | null;
  readonly madeUp: boolean;
  readonly fitted: Readonly<Record<string, unknown>>;
  readonly joint: Readonly<Record<string, unknown>>;
}

/** Every item as at the redress before; null where that one does not say. */
export function itemsAtRedress({ items, events }: ToolHistoryResult): readonly ItemAtRedress[] {
  const last = events.findLast(({ event }) => event.kind === "redress")?.event;
  const before = last?.kind === "redress" ? last : null;
  return [...items]
    .sort((a, b) => (a.position ?? Number.POSITIVE_INFINITY) - (b.position ?? Number.POSITIVE_INFINITY))
    .map(({ item, kind, design_torque_Nm }) => {
      const fitted = before?.fitted.find((each) => each.item === item);
      const joint = before?.joints.find((each) => each.joint === item);
      return {
        item,
        kind,
        renewed: fitted?.renewed ?? null,
        madeUp: kind === "joint" && joint !== undefined,
        fitted: { elastomer: fitted?.elastomer ?? null, backup_ring: fitted?.backup_ring ?? null },
        joint: {
          target_torque_Nm: joint?.target_torque_Nm ?? design_torque_Nm ?? null,
          compound: joint?.compound ?? null,
          torque_tool: joint?.torque_tool ?? null,
        },
      };
    });
}

const unique = (texts: readonly (string | null)[]): readonly string[] =>
  [...new Set(texts.filter((text) => text !== null && text !== ""))] as readonly string[];
