import { useState } from "preact/hooks";
import {
  type BuildPracticeResult,
  formatExact,
  formatNumber,
  type PracticeComparison,
  sayContrast,
  sayItems,
  sayTimes,
  sentenceCase,
  verdictWords,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

const atFirst = 12;

/** Every comparison with its numbers, in the order of the picture. */
export function ComparisonsTable({ result }: { readonly result: BuildPracticeResult }) {
  const [all, setAll] = useState(false);
  const { comparisons } = result;
  if (comparisons.length === 0) return <p class="muted">There is nothing to compare in this scope.</p>;
  return (
    <div>
      <DataTable
        caption="Every practice against every mode"
        fill
        rows={all ? comparisons : comparisons.slice(0, atFirst)}
        keyOf={keyOf}
        file="build-practice-comparisons.csv"
        columns={[
          {
            title: "Practice",
            show: (one) => (
              <Link
                class="wraps"
                to={{ closely: { practice: one.practice, level: one.level, item: one.item, mode: one.mode } }}
              >
                {sentenceCase(sayItems(one.item))} {sayContrast(one)}
              </Link>
            ),
            value: (one) => `${sayItems(one.item)} ${sayContrast(one)}`,
          },
          { title: "Mode", show: ({ mode }) => mode, value: ({ mode }) => mode },
          { title: "Reading", show: ({ verdict }) => verdictWords[verdict], value: ({ verdict }) => verdict },
          {
            title: "As recorded",
            unit: "times as long",
            numeric: true,
            show: ({ unadjusted }) => sayTimes(unadjusted),
            value: ({ unadjusted }) => unadjusted?.value ?? null,
          },
          {
            title: "Adjusted",
            unit: "times as long",
            numeric: true,
            show: ({ adjusted, verdict }) => (verdict === "cannot tell" ? "cannot tell" : sayTimes(adjusted)),
            value: ({ adjusted }) => adjusted?.value ?? null,
          },
          {
            title: "Failures",
            numeric: true,
            show: ({ failures }) => formatExact(failures),
            value: ({ failures }) => failures,
          },
          { title: "Lives", numeric: true, show: ({ lives }) => formatExact(lives), value: ({ lives }) => lives },
          {
            title: "p over all",
            numeric: true,
            show: ({ screenedPValue }) => (screenedPValue === null ? "not tested" : formatNumber(screenedPValue, 2)),
            value: ({ screenedPValue }) => screenedPValue,
          },
        ]}
      />
      {comparisons.length <= atFirst ? null : (
        <p class="table-foot">
          <button type="button" class="plain" aria-expanded={all} onClick={() => setAll(!all)}>
            {all ? "Show the first only" : `Show all ${formatExact(comparisons.length)} comparisons`}
          </button>
        </p>
      )}
    </div>
  );
}

const keyOf = ({ practice, level, item, mode }: PracticeComparison): string =>
  JSON.stringify([practice, level, item, mode]);
