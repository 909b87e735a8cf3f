import { useState } from "preact/hooks";
import { formatAge, formatDate, type ItemLifeResult, type LifeHistory, sayLifeEnd } from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";

interface LivesTableProps {
  readonly result: ItemLifeResult;
  readonly picked: readonly string[];
  readonly onPick: (title: string, lifeIds: readonly string[]) => void;
}

const atFirst = 10;

/** The lives one by one, failures first, for those who read rather than look. */
export function LivesTable({ result, picked, onPick }: LivesTableProps) {
  const [all, setAll] = useState(false);
  const ordered = [
    ...result.histories.filter(({ kind }) => kind !== "right"),
    ...result.histories.filter(({ kind }) => kind === "right"),
  ];
  const rows = all ? ordered : ordered.slice(0, atFirst);
  const title = (life: LifeHistory) => `${life.serial}, restored ${formatDate(life.sinceOn)}: ${sayLifeEnd(life)}`;
  return (
    <div>
      <DataTable
        caption={`Lives of ${result.item}, ${result.mode}`}
        rows={rows}
        keyOf={(life) => life.lifeId}
        picked={(life) => picked.includes(life.lifeId)}
        file={fileName(["lives", result.item, result.mode], "csv")}
        columns={[
          { title: "Serial", show: ({ serial }) => <SerialLink serial={serial} />, value: ({ serial }) => serial },
          { title: "Restored", show: ({ sinceOn }) => formatDate(sinceOn), value: ({ sinceOn }) => sinceOn },
          { title: "How it ended", show: ended, value: ended },
          {
            title: "Sound at",
            numeric: true,
            show: ({ lower }) => formatAge(lower),
            value: ({ lower }) => lowOf(lower),
          },
          {
            title: "Failed by",
            numeric: true,
            show: ({ upper }) => (upper === null ? "" : formatAge(upper)),
            value: ({ upper }) => (upper === null ? null : highOf(upper)),
          },
          {
            title: "Rows",
            show: (life) => (
              <button type="button" class="plain" onClick={() => onPick(title(life), [life.lifeId])}>
                Show rows<span class="unseen"> of {title(life)}</span>
              </button>
            ),
          },
        ]}
      />
      {result.histories.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${result.histories.length.toLocaleString("en")} lives`}
        </button>
      ) : null}
    </div>
  );
}

/** How it ended, and the failure that followed where the two are one history. */
const ended = (life: LifeHistory): string =>
  life.ledTo === undefined
    ? sayLifeEnd(life)
    : `${sayLifeEnd(life)}, then ${life.ledTo.mode} ${life.ledTo.kind === "exact" ? "at" : "by"} ${formatAge(life.ledTo.upper ?? life.ledTo.lower)}`;

const lowOf = (age: LifeHistory["lower"]): number => (typeof age === "number" ? age : age[0]);
const highOf = (age: LifeHistory["lower"]): number => (typeof age === "number" ? age : age[1]);
