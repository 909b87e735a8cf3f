import type { ComponentChildren } from "preact";
import { type Estimate, type ItemLifeResult, sayBound, sayLevel, sayReading } from "../../../analysis/index.ts";
import { move } from "../../state/navigation.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { StatedAge } from "./StatedAge.tsx";

interface Reading {
  readonly name: string;
  readonly shown: ComponentChildren;
  readonly estimate: Estimate;
}

/** What the life comes to, each number with its bounds. */
export function ReadingsTable({ result }: { readonly result: ItemLifeResult }) {
  const { b10, median, mean, reliability, statedAge } = result.readings;
  const { confidence } = result.definition;
  const readings: Reading[] = [
    { name: "One in ten has failed by", shown: "One in ten has failed by", estimate: b10 },
    { name: "Half have failed by", shown: "Half have failed by", estimate: median },
    { name: "Mean life", shown: "Mean life", estimate: mean },
    {
      name: `Still good at ${statedAge} h`,
      shown: <StatedAge age={statedAge} onAge={(age) => move({ settings: { statedAge: age } })} />,
      estimate: reliability,
    },
  ];
  if (result.fit !== null)
    readings.push(
      {
        name: "Shape",
        shown: <Explained word="Shape">above 1 wears out, below 1 fails early</Explained>,
        estimate: result.fit.shape,
      },
      { name: "Scale", shown: <Explained word="Scale">63 % have failed by</Explained>, estimate: result.fit.scale },
    );
  return (
    <DataTable
      caption="How long it lasts"
      fill
      file={fileName(["item life", result.item, result.mode], "csv")}
      rows={readings}
      keyOf={(reading) => reading.name}
      columns={[
        { title: "Reading", show: (reading) => reading.shown, value: (reading) => reading.name },
        {
          title: "Estimate",
          numeric: true,
          show: ({ estimate }) => <strong>{sayReading(estimate)}</strong>,
          value: ({ estimate }) => estimate.value,
        },
        {
          title: sayLevel(confidence, "below"),
          numeric: true,
          show: ({ estimate }) => sayBound(estimate, "lower"),
          value: ({ estimate }) => estimate.lower,
        },
        {
          title: sayLevel(confidence, "above"),
          numeric: true,
          show: ({ estimate }) => sayBound(estimate, "upper"),
          value: ({ estimate }) => estimate.upper,
        },
      ]}
    />
  );
}

const Explained = ({ word, children }: { readonly word: string; readonly children: ComponentChildren }) => (
  <>
    {word} <span class="muted">({children})</span>
  </>
);
