import { useState } from "preact/hooks";
import { type AuditReply, countOf, formatExact, sayAuditRow, sayAuditRule } from "../../../analysis/index.ts";
import { type Doubt, fetchAllDoubts, fetchDoubts } from "../../state/auditRequests.ts";
import { type Picked, pickedRows } from "../../state/evidence.ts";
import { place } from "../../state/navigation.ts";
import { type DoubtKind, writeScope } from "../../state/place.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { Link } from "../parts/Link.tsx";
import { Pager } from "../parts/Pager.tsx";
import { RowsBehind } from "../parts/RowsBehind.tsx";
import { Section } from "../parts/Section.tsx";
import { AnswerBar } from "./AnswerBar.tsx";
import { DoubtList } from "./DoubtList.tsx";
import { sayColumn } from "./sayColumn.ts";

interface KindViewProps {
  readonly kind: DoubtKind;
  readonly audit: AuditReply;
  readonly dataHash: string;
}

const atOnce = 25;

/** One kind of doubt: what is odd, row by row, answered singly or many at a time. */
export function KindView({ kind, audit, dataHash }: KindViewProps) {
  const { scope } = place.value;
  const [from, setFrom] = useState(0);
  const [chosen, setChosen] = useState<ReadonlyMap<string, Doubt>>(new Map());
  const [picked, setPicked] = useState<Picked | null>(null);
  const [trouble, setTrouble] = useState("");
  const loaded = useLoaded(`doubts ${dataHash} ${writeScope(scope)} ${JSON.stringify(kind)} ${from}`, (signal) =>
    fetchDoubts(scope, kind, { offset: from, limit: atOnce }, signal),
  );
  const group = audit.groups.find(
    ({ rule, table, column }) => rule === kind.rule && table === kind.table && column === kind.column,
  );
  const choose = (doubts: readonly Doubt[], yes: boolean) => {
    const next = new Map(chosen);
    for (const doubt of doubts) {
      if (yes) next.set(doubt.id, doubt);
      else next.delete(doubt.id);
    }
    setChosen(next);
  };
  const chooseAll = () => {
    setTrouble("");
    fetchAllDoubts(scope, kind).then(
      (doubts) => choose(doubts, true),
      (cause: unknown) => setTrouble(cause instanceof Error ? cause.message : String(cause)),
    );
  };
  const words = sayAuditRule(kind.rule);
  const total = group?.count ?? 0;
  return (
    <>
      <p class="answer">
        <strong>{words.title.endsWith("?") ? words.title : `${words.title}:`}</strong>{" "}
        {total === 0 ? "none left open." : sayGroup(total, group?.lives ?? null)}
      </p>
      <div class="answer-under">
        <p>
          {words.odd} {words.whyItMatters}
        </p>
        {total === 0 ? null : <p>{words.whatToDo}</p>}
      </div>
      <p class="answer-actions small">
        <Link to={{ doubt: null }}>All kinds of doubt</Link>
        <NextKind audit={audit} kind={kind} />
      </p>
      {total === 0 ? null : (
        <div class="card">
          <Section name={sayColumn(kind)}>
            <Answered loaded={loaded} waitingWords="Looking the rows up…" failureTitle="The rows cannot be listed">
              {(page) => (
                <>
                  <DoubtList
                    doubts={page.rows}
                    chosen={chosen}
                    onChoose={choose}
                    onRows={(doubt) => setPicked(pickedRows(sayAuditRow(doubt), [doubt.row, ...doubt.others]))}
                  />
                  <Pager
                    from={from}
                    to={from + page.rows.length}
                    total={page.total}
                    step={atOnce}
                    what="rows"
                    onFrom={setFrom}
                  />
                </>
              )}
            </Answered>
            <p class="small row-of-buttons">
              {total > atOnce ? (
                <button type="button" class="plain" onClick={chooseAll}>
                  Tick all {formatExact(total)}
                </button>
              ) : null}
              {chosen.size === 0 ? null : (
                <button type="button" class="plain" onClick={() => setChosen(new Map())}>
                  Untick all
                </button>
              )}
              <span class="wrong" role="alert">
                {trouble}
              </span>
            </p>
          </Section>
          <Section name="Rows">
            <RowsBehind
              picked={picked}
              study={null}
              hint="Choose “Show rows” at a doubt to see it as it was written, with its sheet and line."
            />
          </Section>
          <AnswerBar
            key={dataHash}
            kind={kind}
            doubts={[...chosen.values()]}
            onStored={() => {
              setChosen(new Map());
              setFrom(0);
            }}
          />
        </div>
      )}
    </>
  );
}

const sayGroup = (count: number, lives: number | null): string =>
  `${formatExact(count)} open${lives === null ? "." : `; ${countOf(lives, "life rests", "lives rest")} on ${count === 1 ? "it" : "them"}.`}`;

/** Where to go on, once this kind is done: the kind after it, or the first. */
function NextKind({ audit: { groups }, kind }: Pick<KindViewProps, "audit" | "kind">) {
  const at = groups.findIndex(
    ({ rule, table, column }) => rule === kind.rule && table === kind.table && column === kind.column,
  );
  const next = groups[at + 1];
  if (next === undefined) return null;
  const { rule, table, column } = next;
  return <Link to={{ doubt: { rule, table, column } }}>Next: {sayAuditRule(rule).title.toLowerCase()}</Link>;
}
