import { type ItemLifeResult, sayMissingHours } from "../../../analysis/index.ts";
import { HowComputed } from "../parts/HowComputed.tsx";

/** How the numbers of an item's life came about. */
export function ItemLifeMethod({ result }: { readonly result: ItemLifeResult }) {
  const { fit, nonparametric, counts, definition } = result;
  return (
    <HowComputed
      provenance={result.provenance}
      definition={result.failureDefinition}
      method={
        <>
          {fit === null
            ? "No line could be fitted to these lives."
            : `Weibull, by maximum likelihood over failures with a known hour, failures between looks and survivors alike; bounds by ${fit.scale.method}; ${fit.iterations} steps to the maximum.`}{" "}
          Steps: {nonparametric.method}
          {nonparametric.boundsMethod === null ? "" : `, bounds ${nonparametric.boundsMethod}`}.
        </>
      }
    >
      <div>
        <dt>Looks</dt>
        <dd>
          {counts.looks} looks closed a life; {counts.informativeLooks} of them followed a failure of the same item.{" "}
          {counts.soundByScope} were sound only because the checklist covers the item and nothing was written.
        </dd>
      </div>
      <div>
        <dt>Hours not written down</dt>
        <dd>{sayMissingHours(definition.missingHours)}</dd>
      </div>
    </HowComputed>
  );
}
