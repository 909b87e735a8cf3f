import { countOf, sayAuditRow } from "../../../analysis/index.ts";
import type { Doubt } from "../../state/auditRequests.ts";
import { SerialLink } from "../parts/Link.tsx";

interface DoubtListProps {
  readonly doubts: readonly Doubt[];
  readonly chosen: ReadonlyMap<string, Doubt>;
  readonly onChoose: (doubts: readonly Doubt[], yes: boolean) => void;
  readonly onRows: (doubt: Doubt) => void;
}

/** Doubts to be ticked, each in its own words, with the lives that rest on it and the way to its rows. */
export function DoubtList({ doubts, chosen, onChoose, onRows }: DoubtListProps) {
  const all = doubts.length > 0 && doubts.every(({ id }) => chosen.has(id));
  return (
    <div class="doubts">
      <label class="doubt doubt-all">
        <input type="checkbox" checked={all} onChange={(event) => onChoose(doubts, event.currentTarget.checked)} />
        <span class="muted small">{doubts.length === 1 ? "This one" : `These ${doubts.length}`}</span>
      </label>
      <ul>
        {doubts.map((doubt) => (
          <li key={doubt.id} class="doubt" data-chosen={chosen.has(doubt.id)}>
            <label>
              <input
                type="checkbox"
                checked={chosen.has(doubt.id)}
                onChange={(event) => onChoose([doubt], event.currentTarget.checked)}
              />
              <span>{sayAuditRow(doubt)}</span>
            </label>
            <p class="doubt-under small muted">
              {doubt.lives === null ? null : <span>{countOf(doubt.lives, "life", "lives")}</span>}
              <button type="button" class="plain" onClick={() => onRows(doubt)}>
                Show rows<span class="unseen">: {sayAuditRow(doubt)}</span>
              </button>
              {typeof doubt.facts.serial === "string" ? <SerialLink serial={doubt.facts.serial} /> : null}
            </p>
          </li>
        ))}
      </ul>
    </div>
  );
}
