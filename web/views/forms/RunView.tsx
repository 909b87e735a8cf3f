import { useState } from "preact/hooks";
import type { ToolHistoryResult } from "../../../analysis/index.ts";
import { fieldsOf } from "../../state/formTables.ts";
import { newRun } from "../../state/rowDefaults.ts";
import { sayWrong } from "../../state/sayWrong.ts";
import { dayOf } from "../../state/teardownAtHand.ts";
import { typedRow } from "../../state/typedValue.ts";
import { Choices } from "./Choices.tsx";
import { FormFrame } from "./FormFrame.tsx";
import { RowFields } from "./RowFields.tsx";
import { StoreBar } from "./StoreBar.tsx";

/** What every run is asked for; the rest is unfolded where somebody knows it. */
const first = ["run", "out_on", "in_on", "hours", "hours_kind", "customer", "well", "rig"];
const reasons = fieldsOf("runs").find(({ name }) => name === "pulled_because")?.enum ?? [];
const seen = ["item_seen", "mode_seen", "hour_seen"];

/** A run of this tool. */
export function RunView({ result }: { readonly result: ToolHistoryResult }) {
  const { serial } = result.tool;
  const [started] = useState(() => newRun(result, dayOf(new Date())));
  const [typed, setTyped] = useState(started.values);
  const { values, wrong } = typedRow(fieldsOf("runs"), typed);
  const shared = {
    table: "runs",
    values: typed,
    choices: started.choices,
    because: untouched(started.because, started.values, typed),
    onValue: (field: string, value: unknown) => setTyped({ ...typed, [field]: value }),
  } as const;
  return (
    <FormFrame asks={`A run of ${serial}`} back={`Back to the story of ${serial}`}>
      <div class="card">
        <div class="tap-band">
          <RowFields {...shared} show={first} />
        </div>
        <div class="tap-band">
          <Choices
            legend="Why was it pulled?"
            value={typeof typed.pulled_because === "string" ? typed.pulled_because : null}
            choices={reasons.map((reason) => ({ value: reason, name: reason }))}
            onPick={(reason) => setTyped({ ...typed, pulled_because: reason })}
          />
        </div>
        <div class="tap-band">
          <h2 class="section-label">Seen failing</h2>
          <RowFields {...shared} show={seen} />
        </div>
        <div class="tap-band">
          <details class="how">
            <summary>What else is known: depth, temperature, mud, pressure, vibration</summary>
            <RowFields {...shared} leaveOut={["serial", "pulled_because", ...first, ...seen]} />
          </details>
        </div>
      </div>
      <StoreBar
        adds
        entries={[{ table: "runs", values }]}
        missing={sayWrong("runs", wrong)}
        says={`Run ${String(values.run ?? "")} of ${serial}`}
      />
    </FormFrame>
  );
}

/** Where a value comes from, as long as it is the one that was proposed. */
const untouched = (
  because: Readonly<Record<string, string>>,
  started: Readonly<Record<string, unknown>>,
  typed: Readonly<Record<string, unknown>>,
): Readonly<Record<string, string>> =>
  Object.fromEntries(Object.entries(because).filter(([field]) => typed[field] === started[field]));
