import { useState } from "preact/hooks";
import { type FleetResult, formatDate, formatNumber, type LookedBack, sayLookBack } from "../../../analysis/index.ts";
import { fetchFleet, fleetPath } from "../../state/api.ts";
import { place } from "../../state/navigation.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { ranged } from "./ranged.ts";

/** Half-years back from today at which the same forecast is made again; each needs a year after it to be scored. */
const HALF_YEARS = [2, 3, 4, 5] as const;

interface Row extends LookedBack {
  readonly knownOn: string;
}

/** The same forecast from past dates, each from what was known then, against what came. Asked for, since it takes a while. */
export function LookBack({ result }: { readonly result: FleetResult }) {
  const [asked, setAsked] = useState(false);
  const { dataHash, cutoff } = result.provenance;
  const path = fleetPath(place.value);
  const loaded = useLoaded<readonly Row[]>(asked ? `${dataHash} look back ${path}` : null, async (signal) => {
    const rows: Row[] = [];
    for (const halfYears of HALF_YEARS) {
      const knownOn = monthsBefore(cutoff, 6 * halfYears);
      const past = await fetchFleet(`${path}${path.includes("?") ? "&" : "?"}asof=${knownOn}`, signal);
      rows.push(...(past.forecast?.lookBack ?? []).map((one) => ({ ...one, knownOn })));
    }
    return rows;
  });
  if (!asked)
    return (
      <p>
        <button type="button" onClick={() => setAsked(true)}>
          How would it have done before?
        </button>
      </p>
    );
  if (loaded.failure !== null) return <p role="alert">{loaded.failure.message}</p>;
  if (loaded.value === null)
    return <p aria-live="polite">Forecasting again from four past dates, each from what was known then…</p>;
  return (
    <div class="stack" aria-live="polite">
      <p>{sayLookBack(loaded.value)}</p>
      <DataTable
        caption="Looking back: jobs stopped by a failure"
        fill
        file="fleet-look-back.csv"
        rows={loaded.value}
        keyOf={({ knownOn, months }) => `${knownOn} ${months}`}
        group={{ title: "Known on", keyOf: ({ knownOn }) => knownOn, show: ({ knownOn }) => formatDate(knownOn) }}
        fileColumns={[{ title: "known_on", value: ({ knownOn }) => knownOn }]}
        columns={[
          { title: "Months", numeric: true, show: ({ months }) => formatNumber(months), value: ({ months }) => months },
          {
            title: "Foretold",
            numeric: true,
            show: ({ foretold }) => ranged(foretold),
            value: ({ foretold }) => foretold.mean,
          },
          {
            title: "Came",
            numeric: true,
            show: ({ actual }) => <strong>{formatNumber(actual)}</strong>,
            value: ({ actual }) => actual,
          },
          {
            title: "With the hours then run",
            numeric: true,
            show: ({ useKnown }) => ranged(useKnown),
            value: ({ useKnown }) => useKnown.mean,
          },
          {
            title: "By last year's rate",
            numeric: true,
            show: ({ byLastYear }) => formatNumber(byLastYear),
            value: ({ byLastYear }) => byLastYear,
          },
        ]}
      />
    </div>
  );
}

function monthsBefore(date: string, months: number): string {
  const [year = 0, month = 1, day = 1] = date.split("-").map(Number);
  const at = year * 12 + (month - 1) - months;
  const lastDay = new Date(Date.UTC(Math.floor(at / 12), (at % 12) + 1, 0)).getUTCDate();
  return `${Math.floor(at / 12)}-${String((at % 12) + 1).padStart(2, "0")}-${String(Math.min(day, lastDay)).padStart(2, "0")}`;
}
