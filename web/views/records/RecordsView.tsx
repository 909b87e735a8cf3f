import { countOf, formatDate, type StateReply, tableDescriptors, tableNames } from "../../../analysis/index.ts";
import { fetchBatches } from "../../state/api.ts";
import { keptByHand } from "../../state/formTables.ts";
import { place } from "../../state/navigation.ts";
import { planTables } from "../../state/planDefaults.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { PlanView } from "../forms/PlanView.tsx";
import { TableView } from "../forms/TableView.tsx";
import { Answered } from "../parts/Answered.tsx";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";
import { Section } from "../parts/Section.tsx";
import { Empty } from "../parts/States.tsx";
import { BatchList } from "./BatchList.tsx";
import { SetupFile } from "./SetupFile.tsx";

/** What is under the answers: rows by table, drops, lines set aside. */
export function RecordsView({ state }: { readonly state: StateReply }) {
  const { form } = place.value;
  const plan = planTables.find((name) => form === `new ${name}`);
  if (plan !== undefined)
    return (
      <PlanView
        key={plan}
        table={plan}
        choices={state.choices}
        dataHash={state.dataHash}
        back={`Back to ${tableDescriptors[plan].title.toLowerCase()}`}
        backTo={plan}
      />
    );
  const table = tableNames.find((name) => name === form);
  return table === undefined ? <Overview state={state} /> : <TableView table={table} dataHash={state.dataHash} />;
}

function Overview({ state }: { readonly state: StateReply }) {
  const batches = useLoaded(`batches ${state.dataHash}`, fetchBatches);
  if (state.batches === 0)
    return (
      <Empty title="No sheets have been dropped in yet">
        <p>
          Here you will see every row that counts, the sheet and line it came from, and every line that could not be
          read. Your own sheets are enough: CSV or workbooks, in whatever columns and units they have.
        </p>
        <Link to={{ view: "drop" }} class="button main">
          Drop in sheets
        </Link>
      </Empty>
    );
  const total = tableNames.reduce((sum, table) => sum + state.rows[table], 0);
  const { firstDate, lastDate } = state.choices;
  return (
    <>
      <p class="answer">
        <strong>{countOf(total, "row")}</strong> from {countOf(state.batches, "drop")}
        {firstDate === null || lastDate === null ? "" : `, ${formatDate(firstDate)} to ${formatDate(lastDate)}`}.{" "}
        {state.setAside === 0
          ? "Every line could be read."
          : `${countOf(state.setAside, "line")} could not be read and ${state.setAside === 1 ? "is" : "are"} kept aside.`}
      </p>
      <p class="answer-actions">
        <Link to={{ view: "drop" }} class="button main">
          Drop in sheets
        </Link>
        <Link to={{ view: "audit" }}>What is in doubt</Link>
      </p>
      <div class="card">
        <Section name="Tables">
          <DataTable
            caption="Rows by table"
            hideCaption
            rows={tableNames}
            keyOf={(table) => table}
            columns={[
              {
                title: "Table",
                show: (table) =>
                  keptByHand.includes(table) ? (
                    <Link to={{ form: table }}>{tableDescriptors[table].title}</Link>
                  ) : (
                    tableDescriptors[table].title
                  ),
              },
              { title: "Rows", numeric: true, show: (table) => state.rows[table].toLocaleString("en") },
              { title: "One row is", show: (table) => tableDescriptors[table].description },
            ]}
          />
        </Section>
        <Section name="Words, lists and mappings">
          <SetupFile />
        </Section>
        <Section name="Drops">
          <Answered loaded={batches} waitingWords="Looking up the drops…" failureTitle="The drops cannot be listed">
            {(known) => <BatchList batches={known} />}
          </Answered>
        </Section>
      </div>
    </>
  );
}
