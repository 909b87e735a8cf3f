import type { WhatFailsResult } from "../../../analysis/index.ts";
import { HowComputed } from "../parts/HowComputed.tsx";

/** How the rates came about. */
export function WhatFailsMethod({ result }: { readonly result: WhatFailsResult }) {
  return (
    <HowComputed
      provenance={result.provenance}
      definition={result.failureDefinition}
      method={`Failures per 1,000 hours, bounds by ${result.toolFailureRate.method}. Modes that only an inspection shows are counted per inspected hour, the others per hour run. The shade of the drawing draws small counts towards the mean of their kind; the numbers do not.`}
    >
      <div>
        <dt>Counted apart</dt>
        <dd>
          {result.buildRejects === 0
            ? "No build was rejected before it went out."
            : `${result.buildRejects} builds rejected before they went out; they are no lives of age 0.`}
        </dd>
      </div>
    </HowComputed>
  );
}
