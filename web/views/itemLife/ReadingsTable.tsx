import type { ComponentChildren } from "preact";
import {
  type Estimate,
  type ItemLifeResult,
  lawNumbers,
  sayBound,
  sayLevel,
  sayReading,
} from "../../../analysis/index.ts";
import { move } from "../../state/navigation.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { StatedAge } from "./StatedAge.tsx";

interface Reading {
  readonly name: string;
  readonly shown: ComponentChildren;
  readonly estimate: Estimate;
  /** What the reading is about, where the table holds two things. */
  readonly part: string;
}

/** What the life comes to, each number with its bounds. */
export function ReadingsTable({ result }: { readonly result: ItemLifeResult }) {
  const { b10, median, mean, reliability, statedAge } = result.readings;
  const { confidence, sides = "both" } = result.definition;
  const own = `Until ${result.mode}`;
  const part = (name: string, estimate: Estimate, shown: ComponentChildren = name, of = own): Reading => ({
    name,
    shown,
    estimate,
    part: of,
  });
  const readings: Reading[] = [
    part("One in ten has failed by", b10),
    part("Half have failed by", median),
    part("Mean life", mean),
    part(
      `Share still good at ${statedAge} h`,
      reliability,
      <StatedAge age={statedAge} onAge={(age) => move({ settings: { statedAge: age } })} />,
    ),
    ...(result.fit === null
      ? []
      : lawNumbers(result.fit).map(({ name, means, estimate }) =>
          part(name, estimate, <Explained word={name}>{means}</Explained>),
        )),
  ];
  const { linked } = result;
  if (linked?.delay != null) {
    const from = `From ${linked.defect} to ${linked.failure}`;
    readings.push(
      part(`One in ten goes on to ${linked.failure} within`, linked.delay.tenth, undefined, from),
      part(`Half go on to ${linked.failure} within`, linked.delay.median, undefined, from),
    );
  }
  return (
    <DataTable
      caption="How long it lasts"
      fill
      file={fileName(["item life", result.item, result.mode], "csv")}
      rows={readings}
      keyOf={(reading) => reading.name}
      {...(linked?.delay == null
        ? {}
        : { group: { keyOf: (reading: Reading) => reading.part, show: (reading: Reading) => reading.part } })}
      columns={[
        { title: "Reading", show: (reading) => reading.shown, value: (reading) => reading.name },
        {
          title: "Estimate",
          numeric: true,
          show: ({ estimate }) => <strong>{sayReading(estimate)}</strong>,
          value: ({ estimate }) => estimate.value,
        },
        {
          title: sayLevel(confidence, "below", sides),
          numeric: true,
          show: ({ estimate }) => sayBound(estimate, "lower"),
          value: ({ estimate }) => estimate.lower,
        },
        ...(sides === "lower"
          ? []
          : [
              {
                title: sayLevel(confidence, "above"),
                numeric: true as const,
                show: ({ estimate }: Reading) => sayBound(estimate, "upper"),
                value: ({ estimate }: Reading) => estimate.upper,
              },
            ]),
      ]}
    />
  );
}

const Explained = ({ word, children }: { readonly word: string; readonly children: ComponentChildren }) => (
  <>
    {word} <span class="muted">({children})</span>
  </>
);
