import {
  formatExact,
  type LifeMultiplier,
  type PracticeComparison,
  type PracticeDetail,
  sayTimes,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface Row {
  readonly what: string;
  readonly multiplier: LifeMultiplier | null;
  readonly failures: number | null;
}

interface AnswersTableProps {
  readonly detail: PracticeDetail;
  readonly comparison: PracticeComparison;
}

/** The same comparison asked otherwise: would another model, or one tool or crew less, say otherwise? */
export function AnswersTable({ detail, comparison }: AnswersTableProps) {
  const { failures, lives, notWritten, writtenAsText, inDoubt } = comparison;
  const missing = notWritten.lives + writtenAsText.lives + inDoubt.lives;
  const rows: readonly Row[] = [
    { what: "As recorded", multiplier: comparison.unadjusted, failures },
    { what: "Adjusted for what else differed", multiplier: comparison.adjusted, failures },
    ...(comparison.selected === null
      ? []
      : [{ what: "The same, bounds allowing for all compared", multiplier: comparison.selected, failures }]),
    ...(detail.imputed === null
      ? []
      : [{ what: "Missing numbers filled in, ten times", multiplier: detail.imputed, failures: null }]),
    ...detail.otherModels.map(({ what, multiplier, failures: own }) => ({
      what: `Lives taken as ${what}`,
      multiplier,
      failures: own,
    })),
    ...detail.withoutOne.map(({ what, multiplier, failures: own }) => ({
      what: `Without ${what}`,
      multiplier,
      failures: own,
    })),
  ];
  return (
    <div class="stack">
      <DataTable
        caption="Asked otherwise"
        fill
        rows={rows}
        keyOf={({ what }) => what}
        columns={[
          { title: "How", show: ({ what }) => what, value: ({ what }) => what },
          {
            title: "Times as long",
            numeric: true,
            show: ({ multiplier }) => sayTimes(multiplier),
            value: ({ multiplier }) => multiplier?.value ?? null,
          },
          {
            title: "Failures",
            numeric: true,
            show: ({ failures: own }) => (own === null ? "" : formatExact(own)),
            value: ({ failures: own }) => own,
          },
        ]}
      />
      <p class="muted small">
        {detail.modelsAgree
          ? "All of these lie on the same side of 1."
          : "Not all of these lie on the same side of 1: the answer rests on how one asks."}{" "}
        {missing === 0
          ? ""
          : `Not written as it should be: ${formatExact(missing)} of ${formatExact(lives + missing)} lives (${formatExact(notWritten.lives)} blank, ${formatExact(writtenAsText.lives)} with words, ${formatExact(inDoubt.lives)} with a unit in doubt); ${formatExact(notWritten.failures + writtenAsText.failures + inDoubt.failures)} of them failed.`}
      </p>
    </div>
  );
}
