import { type AuditReply, countOf, formatExact, sayAuditRule } from "../../../analysis/index.ts";
import { Cautions } from "../parts/Cautions.tsx";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";
import { Section } from "../parts/Section.tsx";
import { AnswersGiven } from "./AnswersGiven.tsx";
import { StaleAnswers } from "./StaleAnswers.tsx";
import { sayColumn } from "./sayColumn.ts";

/** How much is in doubt, kind by kind, those first that would change the most lives. */
export function AuditOverview({ audit, dataHash }: { readonly audit: AuditReply; readonly dataHash: string }) {
  const { groups, lives } = audit;
  return (
    <>
      <p class="answer">{sayAudit(audit)}</p>
      <p class="answer-actions small">
        <Link to={{ view: "records" }}>Back to the records</Link>
      </p>
      <div class="card">
        {audit.stale.length === 0 ? null : (
          <Section name="Out of date">
            <StaleAnswers answers={audit.stale} />
          </Section>
        )}
        <Section name="In doubt">
          {groups.length === 0 ? (
            <p class="muted">Every rule was tried on every row, and nothing is left to ask.</p>
          ) : (
            <DataTable
              caption="Kinds of doubt, those first that would change the most lives"
              hideCaption
              fill
              file="doubts.csv"
              rows={groups}
              keyOf={({ rule, table, column }) => `${rule} ${table} ${column}`}
              columns={[
                {
                  title: "What is odd",
                  value: ({ rule }) => rule,
                  show: ({ rule, table, column }) => (
                    <Link to={{ doubt: { rule, table, column } }}>{sayAuditRule(rule).title}</Link>
                  ),
                },
                { title: "Open", numeric: true, show: ({ count }) => formatExact(count), value: ({ count }) => count },
                ...(lives === null
                  ? []
                  : [
                      {
                        title: "Lives",
                        numeric: true as const,
                        show: (group: AuditReply["groups"][number]) => formatExact(group.lives ?? 0),
                        value: (group: AuditReply["groups"][number]) => group.lives,
                      },
                    ]),
                { title: "Where", show: sayColumn, value: sayColumn },
                {
                  title: "Why it matters",
                  show: ({ rule }) => <span class="reason">{sayAuditRule(rule).whyItMatters}</span>,
                },
              ]}
            />
          )}
        </Section>
        <Section name="Answers">
          <AnswersGiven count={audit.answers} dataHash={dataHash} />
        </Section>
      </div>
      <Cautions kinds={["life"]} />
    </>
  );
}

function sayAudit({ total, groups, lives, stale }: AuditReply) {
  const late =
    stale.length === 0
      ? ""
      : ` ${countOf(stale.length, "answer")} ${stale.length === 1 ? "is" : "are"} out of date: the sheet says something else now.`;
  if (total === 0) return <>Nothing in these records is in doubt and unanswered.{late}</>;
  return (
    <>
      <strong>{countOf(total, "doubt")}</strong> of {countOf(groups.length, "kind")} {total === 1 ? "is" : "are"} open
      {lives === null
        ? "."
        : `; ${formatExact(lives.touched)} of ${countOf(lives.total, "life", "lives")} rest on them.`}
      {late}
    </>
  );
}
