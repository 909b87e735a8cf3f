import { countOf, type ItemLifeResult } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface Count {
  readonly name: string;
  readonly count: number;
  readonly under: boolean;
}

/** Why nothing is known yet, in the shop's words. */
const waitingWords: Readonly<Record<string, string>> = {
  "not looked at since restored": "not inspected since restored",
  "only looked at from outside": "inspected from outside only",
};

/** Where every restoration went: followed and how it ended, not known yet, left out and why. */
export function CountsTable({ result }: { readonly result: ItemLifeResult }) {
  const { counts, noInformation, excluded } = result;
  const part = (name: string, count: number): Count => ({ name, count, under: true });
  const rows: Count[] = [
    { name: `Followed, on ${countOf(counts.serials, "serial")}`, count: counts.lives, under: false },
    part("failed, hour known", counts.exact),
    part("failed between two inspections", counts.interval),
    part("found failed at the first inspection", counts.left),
    part("survived so far", counts.right),
    ...(counts.leftTruncated > 0 ? [part("of all these, followed only from mid-life", counts.leftTruncated)] : []),
    { name: "No information yet", count: counts.noInformation, under: false },
    ...noInformation.map(({ reason, count }) => part(waitingWords[reason] ?? reason, count)),
    { name: "Left out", count: counts.excluded, under: false },
    ...excluded.map(({ reason, count }) => part(reason, count)),
  ];
  return (
    <DataTable
      caption="What it rests on"
      fill
      rows={rows}
      keyOf={({ name, under }) => `${under} ${name}`}
      columns={[
        {
          title: "Restorations",
          show: ({ name, under }) => (under ? <span class="under">{name}</span> : <strong>{name}</strong>),
          value: ({ name }) => name,
        },
        { title: "Count", numeric: true, show: ({ count }) => count.toLocaleString("en"), value: ({ count }) => count },
      ]}
    />
  );
}
