import type { ComponentChildren } from "preact";
import { type FailureDefinition, formatDate, type Provenance } from "../../../analysis/index.ts";

interface HowComputedProps {
  readonly method: ComponentChildren;
  readonly definition: FailureDefinition | null;
  readonly provenance: Provenance;
  readonly children?: ComponentChildren;
}

/** Method, failure definition, what was left out and where the numbers come from, folded away under the numbers. */
export function HowComputed({ method, definition, provenance, children }: HowComputedProps) {
  return (
    <details class="how">
      <summary>Method, failure definition and source</summary>
      <dl class="facts">
        <div>
          <dt>Method</dt>
          <dd>{method}</dd>
        </div>
        {definition === null ? null : <Definition definition={definition} />}
        {children}
        <div>
          <dt>Records up to</dt>
          <dd>{formatDate(provenance.cutoff)}; nothing later was used.</dd>
        </div>
        <div>
          <dt>To find this result again</dt>
          <dd class="hash">
            records {provenance.dataHash}, question {provenance.studyHash}, engine {provenance.engineVersion}
          </dd>
        </div>
      </dl>
    </details>
  );
}

const Definition = ({ definition }: { readonly definition: FailureDefinition }) => (
  <>
    <div>
      <dt>Counts as failed</dt>
      <dd>
        <ul>
          {definition.modes.map(({ item, mode, threshold, announces, restoredBy, leadsTo }) => (
            <li key={`${item} ${mode}`}>
              {item}, {mode}: found at severity {threshold} or above;{" "}
              {announces === "hidden" ? "only an inspection shows it" : "it shows while running"};{" "}
              {restoredBy === "renewed" ? "age starts when the item is renewed" : "age starts at each make-up"}
              {leadsTo === null ? "" : `; leads to ${leadsTo}`}.
            </li>
          ))}
        </ul>
      </dd>
    </div>
    <div>
      <dt>Clock</dt>
      <dd>
        {definition.clock}
        {definition.hoursKind === null ? "" : `, ${definition.hoursKind}`}
      </dd>
    </div>
    {definition.statements.length === 0 ? null : (
      <div>
        <dt>The shop states</dt>
        <dd>
          <ul>
            {definition.statements.map((statement) => (
              <li key={statement}>{statement}</li>
            ))}
          </ul>
        </dd>
      </div>
    )}
  </>
);
