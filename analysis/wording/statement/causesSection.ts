import { formatDate } from "../formatDate.ts";
import { countOf, sentenceCase } from "../inWords.ts";
import { type StatementBlock, type StatementCell, type StatementSection, say } from "./document.ts";
import { countCell } from "./figures.ts";
import { modeName } from "./modesSection.ts";
import type { Sources } from "./sources.ts";

/** What has been found out about why, what was done, and what is still open. */
export function causesSection(sources: Sources): StatementSection {
  const { statement, rates, own } = sources;
  const failed = statement.modes.filter(({ failures }) => failures > 0);
  const open = statement.actions.filter(({ state }) => state === "open");
  const undetermined = failed.reduce((sum, { causes }) => sum + causes.notDetermined, 0);
  const all = failed.reduce((sum, { failures }) => sum + failures, 0);
  const causes: StatementBlock = {
    kind: "table",
    id: "causes",
    title: "Causes of the failures found",
    columns: [
      { title: "Item and mode", kind: "text" },
      { title: "Failures", kind: "number" },
      { title: "Cause not yet determined", kind: "number" },
      { title: "Causes determined", kind: "text" },
      { title: "Findings put down to another failure", kind: "number" },
    ],
    rows: failed.map((mode): readonly StatementCell[] => [
      modeName(mode, sources),
      countCell(mode.failures),
      countCell(mode.causes.notDetermined),
      mode.causes.known.length === 0
        ? "none"
        : mode.causes.known.map(({ cause, count }) => `${cause} (${count})`).join("; "),
      countCell(mode.causes.consequences),
    ]),
    note: "A finding put down to another failure of the same teardown is not counted as a failure of its own.",
    result: rates,
  };
  const actions: StatementBlock = {
    kind: "table",
    id: "actions",
    title: "Corrective actions",
    columns: [
      { title: "Action", kind: "text" },
      { title: "About", kind: "text" },
      { title: "State", kind: "text" },
      { title: "Date", kind: "text" },
    ],
    rows: statement.actions.map(({ what, item, mode, state, on }) => [
      what,
      [item, mode].filter((part) => part !== null).join(", ") || "the tool",
      state,
      on === null ? "no date" : `${state === "done" ? "" : "due "}${formatDate(on)}`,
    ]),
    note: "As written by the shop. That an action is done does not show that it works: see before and after, where it is given.",
    result: own,
  };
  return {
    id: "causes",
    title: "Causes and actions",
    blocks: [
      {
        kind: "paragraph",
        text: say`The cause is not yet determined for ${{ text: `${countOf(undetermined, "failure")} of ${all}`, value: undetermined, result: rates }}. ${sentenceCase(countOf(open.length, "action is", "actions are"))} open.`,
      },
      ...(failed.length === 0 ? [] : [causes]),
      ...(statement.actions.length === 0 ? [] : [actions]),
    ],
  };
}
