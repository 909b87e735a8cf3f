import type { Row } from "../records/descriptor.ts";
import type { HistoryEvent } from "../study/types.ts";
import { formatNumber } from "./formatNumber.ts";

/** The kind of event, with its number on the shop's papers. */
export function sayEventName({ event }: HistoryEvent): string {
  if (event.kind === "redress")
    return `${event.redress.reason === "new" ? "Build" : "Redress"} ${event.redress.redress}`;
  if (event.kind === "run") return `Run ${event.run.run}`;
  return `Teardown ${event.teardown.teardown}`;
}

/** What the rows of an event say, a line each. Nothing is added to what was written down. */
export function sayEvent({ event }: HistoryEvent): readonly string[] {
  if (event.kind === "run") return runLines(event.run, event.counted);
  if (event.kind === "redress") return redressLines(event.redress, event.joints, event.fitted);
  return teardownLines(event.teardown, event.findings);
}

function runLines(run: Row<"runs">, counted: boolean): readonly string[] {
  const length =
    run.hours === null || run.hours === undefined ? "hours not written down" : `${formatNumber(run.hours)} h`;
  const kind = run.hours_kind ?? null;
  const where = [run.customer, run.well, run.rig].filter(Boolean).join(", ");
  const heat = run.max_temperature_C ?? null;
  const first = [
    kind === null ? length : `${length} ${kind}`,
    ...(where === "" ? [] : [where]),
    ...(heat === null ? [] : [`up to ${formatNumber(heat)} °C`]),
  ].join("; ");
  const seen = run.item_seen ?? null;
  const lines = [
    first,
    run.in_on === null || run.in_on === undefined ? "still out" : `pulled: ${run.pulled_because}`,
    ...(seen === null ? [] : [`seen: ${[seen, run.mode_seen].filter(Boolean).join(", ")}`]),
  ];
  return counted ? lines : [...lines, "not counted in the ages"];
}

function redressLines(
  redress: Row<"redresses">,
  joints: readonly Row<"joints">[],
  fitted: readonly Row<"fitted_items">[],
): readonly string[] {
  const renewed = fitted.filter((item) => item.renewed).map((item) => item.item);
  const carried = fitted.filter((item) => !item.renewed).map((item) => item.item);
  return [
    `reason: ${redress.reason}`,
    ...(renewed.length === 0 ? [] : [`renewed: ${renewed.join(", ")}`]),
    ...(carried.length === 0 ? [] : [`carried over: ${carried.join(", ")}`]),
    ...(joints.length === 0
      ? []
      : [
          `made up: ${joints.map((joint) => `${joint.joint}${joint.new_thread === true ? " (new thread)" : ""}`).join(", ")}`,
        ]),
    ...(redress.pressure_test === null || redress.pressure_test === undefined
      ? []
      : [`pressure test: ${redress.pressure_test}`]),
  ];
}

function teardownLines(teardown: Row<"teardowns">, findings: readonly Row<"findings">[]): readonly string[] {
  const sound = findings.filter((finding) => finding.condition === "sound").map((finding) => finding.item);
  const found = findings.filter((finding) => finding.condition !== "sound");
  return [
    [`why: ${teardown.why}`, ...(teardown.kind === null || teardown.kind === undefined ? [] : [teardown.kind])].join(
      "; ",
    ),
    ...found.map((finding) =>
      [
        `${finding.item}: ${finding.condition}`,
        finding.severity === null || finding.severity === undefined
          ? "severity not written down"
          : `severity ${finding.severity}`,
        ...(finding.caused_by ? [`caused by ${finding.caused_by}`] : []),
        ...(finding.note ? [`“${finding.note}”`] : []),
      ].join(", "),
    ),
    ...(sound.length === 0 ? [] : [`sound: ${sound.join(", ")}`]),
    ...(findings.length === 0 ? ["nothing written down about any item"] : []),
  ];
}
