import {
  type FitChecks,
  formatDate,
  formatHours,
  formatNumber,
  sayChecks,
  sayGroupCounts,
  sayWhyNoPart,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";
import { Notices } from "../parts/Notices.tsx";

interface FitChecksPartProps {
  readonly checks: FitChecks;
  readonly onPick: (title: string, lifeIds: readonly string[]) => void;
}

/** Does the curve fit? In words first; the numbers under them, and from each failure to its rows. */
export function FitChecksPart({ checks, onPick }: FitChecksPartProps) {
  const nothing = sayWhyNoPart(checks);
  if (nothing !== null) return <p class="muted">{nothing}</p>;
  const { drift, renewal, influence } = checks;
  return (
    <div class="stack">
      <dl class="facts checks">
        {sayChecks(checks).map(({ name, says, isDoubtful }) => (
          <div key={name} data-doubtful={isDoubtful}>
            <dt>{name}</dt>
            <dd>{says}</dd>
          </div>
        ))}
      </dl>
      <Notices notices={checks.notices} />
      <details class="how small">
        <summary>Numbers of these checks</summary>
        <div class="stack">
          {drift === null ? null : (
            <DataTable
              caption={`Restored before and from ${formatDate(drift.splitOn)}`}
              rows={drift.groups}
              keyOf={({ name }) => name}
              columns={[
                { title: "Restored", show: ({ name }) => name, value: ({ name }) => name },
                { title: "Failures", show: sayGroupCounts, value: ({ failures }) => failures },
                { title: "Shape", numeric: true, show: ({ shape }) => numberOr(shape), value: ({ shape }) => shape },
                {
                  title: "One in ten has failed by",
                  numeric: true,
                  show: ({ b10 }) => (b10 === null ? "not known" : formatHours(b10)),
                  value: ({ b10 }) => b10,
                },
              ]}
            />
          )}
          {renewal === null ? null : (
            <DataTable
              caption="By restoration on the same serial"
              rows={renewal.strata}
              keyOf={({ from }) => String(from)}
              columns={[
                {
                  title: "Restoration",
                  show: ({ from, to }) => (to === null ? `${from} and later` : String(from)),
                  value: ({ from }) => from,
                },
                { title: "Lives", numeric: true, show: ({ lives }) => lives, value: ({ lives }) => lives },
                {
                  title: "Failures",
                  numeric: true,
                  show: ({ failures }) => failures,
                  value: ({ failures }) => failures,
                },
              ]}
            />
          )}
          <DataTable
            caption="Failures that move the answer most"
            rows={influence}
            keyOf={({ lifeId }) => lifeId}
            columns={[
              { title: "Serial", show: ({ serial }) => <SerialLink serial={serial} />, value: ({ serial }) => serial },
              { title: "Restored", show: ({ sinceOn }) => formatDate(sinceOn), value: ({ sinceOn }) => sinceOn },
              {
                title: "Without it one in ten fails by",
                numeric: true,
                show: ({ b10Without }) => formatHours(b10Without),
                value: ({ b10Without }) => b10Without,
              },
              {
                title: "Times as long",
                numeric: true,
                show: ({ b10Ratio }) => formatNumber(b10Ratio),
                value: ({ b10Ratio }) => b10Ratio,
              },
              {
                title: "Rows",
                show: ({ lifeId, serial, sinceOn }) => (
                  <button
                    type="button"
                    class="plain"
                    onClick={() => onPick(`${serial}, restored ${formatDate(sinceOn)}`, [lifeId])}
                  >
                    Show rows<span class="unseen"> of {serial}</span>
                  </button>
                ),
              },
            ]}
          />
        </div>
      </details>
    </div>
  );
}

const numberOr = (value: number | null): string => (value === null ? "not known" : formatNumber(value));
