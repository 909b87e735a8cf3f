import { useState } from "preact/hooks";
import {
  countOf,
  type FormEntry,
  formatDate,
  type Row,
  type ScopeChoices,
  saySeverity,
  severityWords,
  type ToolHistoryResult,
} from "../../../analysis/index.ts";
import { changedRow, sameCell } from "../../state/changedRow.ts";
import {
  type DraftFinding,
  emptyDraft,
  type FindingDraft,
  findingRows,
  isFinding,
  sayMissing,
  scopeOf,
  sound,
  withCondition,
  withItem,
  withMore,
  without,
  withSeverity,
} from "../../state/findingDraft.ts";
import { fieldsOf } from "../../state/formTables.ts";
import { sayWrong } from "../../state/sayWrong.ts";
import { dayOf, newTeardown, teardownAtHand } from "../../state/teardownAtHand.ts";
import { typedRow } from "../../state/typedValue.ts";
import { Choices } from "./Choices.tsx";
import { FormFrame } from "./FormFrame.tsx";
import { OtherMode } from "./OtherMode.tsx";
import { RowFields } from "./RowFields.tsx";
import { StoreBar } from "./StoreBar.tsx";

interface FindingViewProps {
  readonly result: ToolHistoryResult;
  readonly choices: ScopeChoices;
}

/** What was found at the teardown table: item, mode, severity, a tap each; everything else sound, a tap more. */
export function FindingView({ result, choices }: FindingViewProps) {
  const { serial, tool_type: toolType } = result.tool;
  const [atHand, setAtHand] = useState(() => teardownAtHand(result, dayOf(new Date())));
  const [teardown, setTeardown] = useState<Row<"teardowns">>(atHand.teardown);
  const [draft, setDraft] = useState<FindingDraft>(emptyDraft);
  const { inHand } = draft;
  const items = itemsOf(result);
  const modes = choices.toolTypes
    .find((known) => known.toolType === toolType)
    ?.items.find(({ item }) => item === inHand.item)?.modes;
  const scope = draft.restSound ? scopeOf(atHand.known?.scope ?? [], items, draft) : (teardown.scope ?? null);
  const look = typedRow(fieldsOf("teardowns"), { ...teardown, scope });
  const found = findingRows(teardown.teardown, draft).map((row) => typedRow(fieldsOf("findings"), row));
  const { known } = atHand;
  const isStored = known !== null && sameCell({ ...teardown, scope }, { ...known, scope: known.scope ?? null });
  const lookEntry: FormEntry =
    known === null ? { table: "teardowns", values: look.values } : changedRow("teardowns", { ...known }, look.values);
  const entries: readonly FormEntry[] = [
    ...(isStored ? [] : [lookEntry]),
    ...found.map(({ values }): FormEntry => ({ table: "findings", values })),
  ];
  const wrong = found.map((row) => sayWrong("findings", row.wrong)).find((each) => each !== null) ?? null;
  const current = draft.findings.find((found) => isFinding(found, inHand));
  return (
    <FormFrame asks={`What was found on ${serial}?`} back={`Back to the story of ${serial}`}>
      <div class="card">
        <div class="tap-band">
          <details class="how">
            <summary>{sayTeardown(atHand.known === null, teardown)}</summary>
            <RowFields
              table="teardowns"
              values={teardown}
              leaveOut={["serial", "scope", ...(atHand.known === null ? [] : ["teardown"])]}
              onValue={(field, value) => setTeardown({ ...teardown, [field]: value })}
            />
            {atHand.known === null ? null : (
              <p class="after-list">
                <button
                  type="button"
                  onClick={() => {
                    const fresh = newTeardown(result, dayOf(new Date()));
                    setAtHand({ teardown: fresh, known: null, findings: [] });
                    setTeardown(fresh);
                  }}
                >
                  Write a new teardown of today instead
                </button>
              </p>
            )}
          </details>
        </div>
        <div class="tap-band">
          <Choices
            legend="Which item?"
            value={inHand.item}
            choices={items.map((item) => ({ value: item, name: item, ...markOf(draft, atHand.findings, item) }))}
            onPick={(item) => setDraft(withItem(draft, item))}
          />
        </div>
        <div class="tap-band">
          {inHand.item === null ? (
            <p class="muted">Choose an item first.</p>
          ) : (
            <Choices
              legend={`What is wrong with ${inHand.item}?`}
              value={inHand.condition}
              choices={[sound, ...withOwn(modes ?? [], inHand.condition)].map((mode) => ({ value: mode, name: mode }))}
              onPick={(condition) => setDraft(withCondition(draft, condition))}
            >
              <OtherMode
                kind={result.items.find(({ item }) => item === inHand.item)?.kind ?? null}
                known={modes ?? []}
                onPick={(mode) => setDraft(withCondition(draft, mode))}
              />
            </Choices>
          )}
        </div>
        <div class="tap-band">
          <Choices
            legend="How bad is it?"
            columns="few"
            value={inHand.severity === null ? null : String(inHand.severity)}
            choices={severityWords.map(({ severity, name, means }) => ({
              value: String(severity),
              name: `${severity} ${name}`,
              means,
            }))}
            onPick={(severity) => setDraft(withSeverity(draft, Number(severity)))}
          />
        </div>
        <div class="tap-band">
          <label class="choice rest">
            <input
              type="checkbox"
              checked={draft.restSound}
              onChange={(event) => setDraft({ ...draft, restSound: event.currentTarget.checked })}
            />
            <span class="choice-name">Everything else was looked at and is sound</span>
            <span class="choice-means">{countOf(items.length, "item")} on the checklist of this tool</span>
          </label>
        </div>
        {draft.findings.length === 0 ? null : (
          <div class="tap-band">
            <ul class="found-list">
              {draft.findings.map((found) => (
                <li key={`${found.item} ${found.condition}`}>
                  <span>{sayFound(found)}</span>
                  <button type="button" onClick={() => setDraft(without(draft, found))}>
                    Take out<span class="unseen"> {sayFound(found)}</span>
                  </button>
                </li>
              ))}
            </ul>
            {current === undefined || current.condition === sound ? null : (
              <details class="how">
                <summary>
                  More about {current.item}: {current.condition} (measured, torque, cause, photo, note)
                </summary>
                <RowFields
                  table="findings"
                  values={current.more}
                  leaveOut={["teardown", "item", "condition", "severity"]}
                  onValue={(field, value) => setDraft(withMore(draft, field, value))}
                />
              </details>
            )}
          </div>
        )}
      </div>
      <StoreBar
        entries={entries}
        missing={sayMissing(draft) ?? sayWrong("teardowns", look.wrong) ?? wrong}
        says={sayDraft(draft, items)}
        onStored={() => setDraft(emptyDraft)}
      />
    </FormFrame>
  );
}

const itemsOf = ({ items }: ToolHistoryResult): readonly string[] =>
  [...items]
    .sort((a, b) => (a.position ?? Number.POSITIVE_INFINITY) - (b.position ?? Number.POSITIVE_INFINITY))
    .map(({ item }) => item);

const withOwn = (modes: readonly string[], own: string | null): readonly string[] =>
  own === null || own === sound || modes.includes(own) ? modes : [...modes, own];

function markOf({ findings }: FindingDraft, before: readonly Row<"findings">[], item: string): { mark?: string } {
  const here = findings.filter((found) => found.item === item).map(({ condition }) => condition);
  const stored = before.filter((found) => found.item === item).map(({ condition }) => `${condition} (stored)`);
  const all = [...here, ...stored];
  return all.length === 0 ? {} : { mark: all.join(", ") };
}

const sayFound = ({ item, condition, severity }: DraftFinding): string =>
  `${item}: ${condition}${severity === null ? "" : `, ${saySeverity(severity)}`}`;

const sayTeardown = (fresh: boolean, { teardown, done_on, kind, why }: Row<"teardowns">): string =>
  `${fresh ? "A new teardown" : `Teardown ${teardown}`} of ${formatDate(done_on)}: ${kind ?? "kind not written down"}, ${
    why === "not known" ? "reason not known" : `because: ${why}`
  }`;

function sayDraft({ findings, restSound }: FindingDraft, items: readonly string[]): string {
  const named = new Set(findings.map(({ item }) => item));
  const rest = items.filter((item) => !named.has(item)).length;
  const found = findings.length === 0 ? "" : countOf(findings.length, "finding");
  const sounds = restSound ? `${found === "" ? "all" : "the other"} ${countOf(rest, "item")} sound` : "";
  return [found, sounds].filter((part) => part !== "").join(", ");
}
