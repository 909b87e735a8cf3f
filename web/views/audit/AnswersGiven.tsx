import { useState } from "preact/hooks";
import { type AnswerState, countOf, formatDate } from "../../../analysis/index.ts";
import { fetchAnswers } from "../../state/auditRequests.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";
import { Pager } from "../parts/Pager.tsx";
import { ReopenButton } from "./ReopenButton.tsx";
import { sayColumn } from "./sayColumn.ts";
import { sayVerdict } from "./sayVerdict.ts";

const atOnce = 20;

/** Everything decided so far, the latest first: who, when, why, and whether it still stands. */
export function AnswersGiven({ count, dataHash }: { readonly count: number; readonly dataHash: string }) {
  const [from, setFrom] = useState(0);
  const [contains, setContains] = useState("");
  const loaded = useLoaded(count === 0 ? null : `answers ${dataHash} ${contains} ${from}`, (signal) =>
    fetchAnswers({ contains, offset: from, limit: atOnce }, signal),
  );
  if (count === 0) return <p class="muted">Nobody has answered anything yet.</p>;
  return (
    <>
      <label class="field filter">
        Only with this in who, why, rule or row
        <input
          type="search"
          value={contains}
          onInput={(event) => {
            setContains(event.currentTarget.value.trim());
            setFrom(0);
          }}
        />
      </label>
      <Answered loaded={loaded} waitingWords="Looking the answers up…" failureTitle="The answers cannot be listed">
        {({ answers, total }) =>
          total === 0 ? (
            <p class="muted">No answer holds “{contains}”.</p>
          ) : (
            <>
              <DataTable
                caption={`${countOf(total, "answer")}, the latest first`}
                fill
                rows={answers}
                keyOf={({ answer: { table, key, column, when, rule } }) =>
                  JSON.stringify([table, key, column, when, rule])
                }
                columns={[
                  {
                    title: "Row",
                    show: ({ answer }) => `${sayColumn(answer)}: ${keyWords(answer.key)}`,
                  },
                  {
                    title: "Decided",
                    show: ({ answer, state }) => (
                      <>
                        {sayVerdict(answer)}
                        {state === "applied" ? null : <span class="muted">, {stateWords[state]}</span>}
                      </>
                    ),
                  },
                  { title: "Why", show: ({ answer }) => <span class="reason">{answer.why}</span> },
                  {
                    title: "Who, when",
                    show: ({ answer: { who, when } }) => `${who}, ${formatDate(when.slice(0, 10))}`,
                  },
                  {
                    title: "Take back",
                    show: ({ answer, state }) =>
                      state === "applied" && answer.verdict !== "reopen" ? <ReopenButton answer={answer} /> : null,
                  },
                ]}
              />
              <Pager
                from={from}
                to={from + answers.length}
                total={total}
                step={atOnce}
                what="answers"
                onFrom={setFrom}
              />
            </>
          )
        }
      </Answered>
    </>
  );
}

const stateWords: Readonly<Record<AnswerState["state"], string>> = {
  applied: "stands",
  stale: "out of date",
  superseded: "answered anew since",
  refused: "does not fit the column",
};
