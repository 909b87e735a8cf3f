import { useState } from "preact/hooks";
import { countOf, type ItemLifeResult, sayBound, sayLevel, sayReading } from "../../../analysis/index.ts";
import { fetchItemLife, itemLifePath } from "../../state/api.ts";
import { fetchAudit } from "../../state/auditRequests.ts";
import { move, place } from "../../state/navigation.ts";
import { writeScope } from "../../state/place.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

/** How many open doubts these lives rest on, and what the reading is without the rows in doubt. */
export function OpenDoubts({ result }: { readonly result: ItemLifeResult }) {
  const { scope, settings } = place.value;
  const { dataHash } = result.provenance;
  const [compares, setCompares] = useState(false);
  const audit = useLoaded(`audit ${dataHash} ${writeScope(scope)}`, (signal) => fetchAudit(scope, signal));
  const isLeftOut = settings.openAudit === "left out";
  const other = itemLifePath({
    ...place.value,
    settings: { ...settings, openAudit: isLeftOut ? "used" : "left out" },
  });
  const otherResult = useLoaded(compares ? `${dataHash} ${other}` : null, (signal) => fetchItemLife(other, signal));
  const total = audit.value?.total ?? 0;
  if (total === 0 && !isLeftOut) return null;
  const rows = [
    { words: sayAudit(isLeftOut), of: result },
    ...(otherResult.value === null ? [] : [{ words: sayAudit(!isLeftOut), of: otherResult.value }]),
  ];
  const { confidence } = result.definition;
  return (
    <div class="stack">
      <p class="small">
        {isLeftOut
          ? "The rows in doubt are left out here. "
          : `${countOf(total, "doubt")} about rows that these lives rest on ${total === 1 ? "is" : "are"} open. `}
        <Link to={{ view: "audit" }}>Answer them</Link>{" "}
        {isLeftOut ? (
          <button type="button" class="plain" onClick={() => move({ settings: { openAudit: "used" } })}>
            Count them again
          </button>
        ) : null}{" "}
        {compares ? null : (
          <button type="button" class="plain" onClick={() => setCompares(true)}>
            {isLeftOut ? "Compare with them" : "Compare without them"}
          </button>
        )}
      </p>
      {compares ? (
        <>
          <DataTable
            caption="With and without the rows in doubt"
            rows={rows}
            keyOf={({ words }) => words}
            columns={[
              { title: "Rows in doubt", show: ({ words, of }) => `${words}${of === result ? " (shown here)" : ""}` },
              { title: "Lives", numeric: true, show: ({ of }) => of.counts.lives.toLocaleString("en") },
              { title: "Failures", numeric: true, show: ({ of }) => of.counts.failures.toLocaleString("en") },
              {
                title: "One in ten has failed by",
                numeric: true,
                show: ({ of }) => <strong>{sayReading(of.readings.b10)}</strong>,
              },
              {
                title: sayLevel(confidence, "below"),
                numeric: true,
                show: ({ of }) => sayBound(of.readings.b10, "lower"),
              },
              {
                title: sayLevel(confidence, "above"),
                numeric: true,
                show: ({ of }) => sayBound(of.readings.b10, "upper"),
              },
            ]}
          />
          {otherResult.waiting ? <p class="small muted">Following each life and fitting…</p> : null}
          {otherResult.failure === null ? null : <p class="small">{otherResult.failure.message}</p>}
          {isLeftOut ? null : (
            <p class="small">
              <button type="button" class="plain" onClick={() => move({ settings: { openAudit: "left out" } })}>
                Show the whole page without them
              </button>
            </p>
          )}
        </>
      ) : null}
    </div>
  );
}

const sayAudit = (leftOut: boolean): string => (leftOut ? "left out" : "counted as written");
