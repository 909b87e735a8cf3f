import {
  type BuildPracticeResult,
  countOf,
  formatExact,
  formatNumber,
  type LotOnWatch,
  sayLots,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";

interface LotsTableProps {
  readonly result: BuildPracticeResult;
  readonly onPick: (title: string, lifeIds: readonly string[]) => void;
}

const shown = 8;

/** Lots whose failures cluster, and the serials that still carry them. */
export function LotsTable({ result, onPick }: LotsTableProps) {
  const { lots, lotsTested } = result;
  const watched = lots.filter(({ isOnWatch }) => isOnWatch);
  const rows = lots.slice(0, Math.max(shown, watched.length));
  return (
    <div class="stack">
      <p>{sayLots(result)}</p>
      {rows.length === 0 ? null : (
        <DataTable
          caption={watched.length === 0 ? "Lots with most failures against what was expected" : "Lots on watch first"}
          fill
          rows={rows}
          keyOf={({ item, lot, mode }) => `${item} ${lot} ${mode}`}
          file="lots.csv"
          columns={[
            {
              title: "Lot",
              show: ({ lot, isOnWatch }) => (isOnWatch ? <strong>{lot}</strong> : lot),
              value: ({ lot }) => lot,
            },
            { title: "Item", show: ({ item }) => item, value: ({ item }) => item },
            { title: "Mode", show: ({ mode }) => mode, value: ({ mode }) => mode },
            {
              title: "Failures",
              numeric: true,
              show: (lot) => <Failures lot={lot} onPick={onPick} />,
              value: ({ failures }) => failures,
            },
            {
              title: "Expected",
              numeric: true,
              show: ({ expected }) => formatNumber(expected, 2),
              value: ({ expected }) => expected,
            },
            { title: "Lives", numeric: true, show: ({ lives }) => formatExact(lives), value: ({ lives }) => lives },
            {
              title: "p over all",
              numeric: true,
              show: ({ screenedPValue }) => formatNumber(screenedPValue, 2),
              value: ({ screenedPValue }) => screenedPValue,
            },
            {
              title: "Still carried by",
              show: ({ carriedBy }) =>
                carriedBy.length === 0
                  ? "none"
                  : carriedBy.map(({ serial, status }, index) => (
                      <>
                        {index === 0 ? null : ", "}
                        <SerialLink serial={serial} />
                        {status === "out" ? " (out)" : ""}
                      </>
                    )),
              value: ({ carriedBy }) => carriedBy.map(({ serial }) => serial).join("; "),
            },
          ]}
        />
      )}
      {lotsTested <= rows.length ? null : (
        <p class="muted small">
          {formatExact(lotsTested - rows.length)} more lots of items and modes were tested and stand out less.
        </p>
      )}
    </div>
  );
}

function Failures({ lot, onPick }: { readonly lot: LotOnWatch; readonly onPick: LotsTableProps["onPick"] }) {
  if (lot.failures === 0) return <>{formatExact(lot.failures)}</>;
  const title = `Lot ${lot.lot} of ${lot.item}: ${countOf(lot.failures, "failure")} by ${lot.mode}`;
  return (
    <button type="button" class="plain" onClick={() => onPick(title, lot.lifeIds)}>
      {formatExact(lot.failures)}
      <span class="unseen">
        {" "}
        failures by {lot.mode}, lot {lot.lot} of {lot.item}: show rows
      </span>
    </button>
  );
}
