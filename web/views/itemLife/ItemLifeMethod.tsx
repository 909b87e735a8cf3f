import { type ItemLifeResult, sayLaw, sayMissingHours, sentenceCase } from "../../../analysis/index.ts";
import { HowComputed } from "../parts/HowComputed.tsx";

/** How the numbers of an item's life came about. */
export function ItemLifeMethod({ result }: { readonly result: ItemLifeResult }) {
  const { counts, definition } = result;
  return (
    <HowComputed
      provenance={result.provenance}
      definition={result.failureDefinition}
      method={
        <>
          {sayFit(result)} {saySteps(result)}
        </>
      }
    >
      <div>
        <dt>Inspections</dt>
        <dd>
          {counts.looks} inspections closed a life; {counts.informativeLooks} of them followed a failure of the same
          item. {counts.soundByScope} were sound only because the checklist covers the item and nothing was written.
        </dd>
      </div>
      <div>
        <dt>Hours not written down</dt>
        <dd>{sayMissingHours(definition.missingHours)}</dd>
      </div>
    </HowComputed>
  );
}

function sayFit({ fit, mode, linked, shapeTaken }: ItemLifeResult): string {
  if (fit === null) return "No line could be fitted to these lives.";
  const over =
    "by maximum likelihood over failures with a known hour, failures between inspections and survivors alike";
  if (linked !== null && mode === linked.defect)
    return `Weibull from restoration to ${linked.defect} and from ${linked.defect} to ${linked.failure}, both together ${over} (${linked.histories} histories: ${linked.defects} with ${linked.defect}, ${linked.failures} with ${linked.failure}); bounds by ${fit.scale.method}; ${fit.iterations} steps to the maximum.`;
  if (shapeTaken !== null)
    return `Weibull law with a shape ${shapeTaken.kind === "fixed" ? "taken for granted" : "believed beforehand"}; the scale is integrated out, the number of failures that the law expects of these lives being uniform beforehand. Estimates are the middle of what is believed afterwards.`;
  return `${sentenceCase(sayLaw[fit.distribution])} law, ${over}; bounds by ${fit.scale.method}; ${fit.iterations} steps to the maximum.`;
}

function saySteps({ nonparametric, linked }: ItemLifeResult): string {
  if (nonparametric.method === "none")
    return linked === null
      ? "No steps are drawn."
      : `No steps of ${linked.defect} alone: its inspections came because of ${linked.failure}.`;
  const bounds = nonparametric.boundsMethod === null ? "" : `, bounds ${nonparametric.boundsMethod}`;
  const band =
    nonparametric.band === null
      ? ""
      : ` The band that holds the whole curve at once: ${nonparametric.band.method} (Nair 1984).`;
  return `Steps: ${nonparametric.method}${bounds}.${band}`;
}
