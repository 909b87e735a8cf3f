import { type Answer, countOf, formatDate } from "../../../analysis/index.ts";
import { fetchRows } from "../../state/api.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";
import { sayColumn } from "./sayColumn.ts";
import { sayNow } from "./sayNow.ts";
import { sayVerdict } from "./sayVerdict.ts";

const atFirst = 20;

/** Answers given on a value that the sheet does not have any more: not applied, and said, never dropped. */
export function StaleAnswers({ answers }: { readonly answers: readonly Answer[] }) {
  const shown = answers.slice(0, atFirst);
  const rows = useLoaded(`stale ${JSON.stringify(shown.map(({ table, key }) => [table, key]))}`, (signal) =>
    fetchRows(shown, signal),
  );
  return (
    <>
      <DataTable
        caption={`${countOf(answers.length, "answer")} given on what the sheet does not say any more, and so not applied`}
        fill
        rows={shown}
        keyOf={({ table, key, column, when }) => JSON.stringify([table, key, column, when])}
        columns={[
          { title: "Row", show: (answer) => `${sayColumn(answer)}: ${keyWords(answer.key)}` },
          { title: "Decided", show: (answer) => sayVerdict(answer) },
          { title: "The sheet says now", show: (answer) => (rows.value === null ? "" : sayNow(answer, rows.value)) },
          { title: "Why", show: ({ why }) => <span class="reason">{why}</span> },
          { title: "Who, when", show: ({ who, when }) => `${who}, ${formatDate(when.slice(0, 10))}` },
        ]}
      />
      <p class="small muted">
        Where the new value is odd as well, it is among the doubts below and can be answered anew. Where it is right,
        nothing is left to do.
        {answers.length > atFirst ? ` The first ${atFirst} are listed here.` : ""}
      </p>
    </>
  );
}
