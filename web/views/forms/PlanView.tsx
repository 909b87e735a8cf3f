import { useState } from "preact/hooks";
import { fetchTable } from "../../state/formRequests.ts";
import { fieldsOf, keyFieldsOf, titleOf } from "../../state/formTables.ts";
import { type KnownPlans, newPlan, type PlanTable, planQuestions } from "../../state/planDefaults.ts";
import { sayWrong } from "../../state/sayWrong.ts";
import { dayOf } from "../../state/teardownAtHand.ts";
import { typedRow } from "../../state/typedValue.ts";
import { type Loaded, useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { FormFrame } from "./FormFrame.tsx";
import { RowFields } from "./RowFields.tsx";
import { StoreBar } from "./StoreBar.tsx";

interface PlanViewProps {
  readonly table: PlanTable;
  readonly choices: KnownPlans["choices"];
  readonly dataHash: string;
  /** Fields that are settled by where the form was opened. */
  readonly settled?: Readonly<Record<string, string>>;
  readonly back: string;
  readonly backTo?: string | null;
}

/** One row of the plans, the stock, the costs or the decisions. A kit counted again takes the place of the count before. */
export function PlanView({ table, choices, dataHash, settled = {}, back, backTo = null }: PlanViewProps) {
  const loaded: Loaded<Pick<KnownPlans, "rows" | "kits">> = useLoaded(`${table} ${dataHash}`, async (signal) => {
    const [rows, items] = await Promise.all([fetchTable(table, signal), fetchTable("tool_items", signal)]);
    return { rows, kits: [...new Set(items.flatMap(({ kit }) => (typeof kit === "string" ? [kit] : [])))] };
  });
  const about = Object.values(settled).join(" ");
  return (
    <FormFrame asks={`${planQuestions[table]}${about === "" ? "" : ` for ${about}`}`} back={back} backTo={backTo}>
      <Answered loaded={loaded} waitingWords="Looking up what is known…" failureTitle="The form cannot be shown">
        {(known) => (
          <PlanForm table={table} settled={settled} known={{ ...known, choices, today: dayOf(new Date()) }} />
        )}
      </Answered>
    </FormFrame>
  );
}

interface PlanFormProps {
  readonly table: PlanTable;
  readonly settled: Readonly<Record<string, string>>;
  readonly known: KnownPlans;
}

function PlanForm({ table, settled, known }: PlanFormProps) {
  const started = newPlan(table, known);
  const [fresh] = useState({ ...started.values, ...settled });
  const [typed, setTyped] = useState<Readonly<Record<string, unknown>>>(fresh);
  const { values, wrong } = typedRow(fieldsOf(table), typed);
  const untouched = Object.fromEntries(
    Object.entries(started.because).filter(([field]) => fresh[field] != null && typed[field] === fresh[field]),
  );
  const named = keyFieldsOf(table)
    .map((field) => String(typed[field] ?? ""))
    .join(" ")
    .trim();
  return (
    <>
      <div class="card">
        <div class="tap-band">
          <RowFields
            table={table}
            values={typed}
            leaveOut={Object.keys(settled)}
            choices={started.choices}
            because={untouched}
            onValue={(field, value) => setTyped({ ...typed, [field]: value })}
          />
        </div>
      </div>
      <StoreBar
        adds={table !== "stock"}
        entries={[{ table, values }]}
        missing={sayWrong(table, wrong)}
        says={`${titleOf(table)}: ${named}`}
        onStored={() => setTyped(fresh)}
      />
    </>
  );
}
