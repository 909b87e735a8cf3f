import { formatConfidence, type RedressIntervalResult } from "../../../analysis/index.ts";
import { HowComputed } from "../parts/HowComputed.tsx";

/** How the interval and its risk came about. */
export function IntervalMethod({ result }: { readonly result: RedressIntervalResult }) {
  const { risk, definition } = result;
  return (
    <HowComputed
      provenance={result.provenance}
      definition={result.failureDefinition}
      method={
        <>
          Cost of a redress cycle over its mean length, for a redress at the interval or at the first failure that stops
          a job (renewal reward; Barlow and Hunter 1960). Modes compete; a defect and the failure it leads to are one
          delay-time law, whose delay leans on having no memory, so that it can differ a little from the fit on Item
          life; hidden modes wait for the shop.
        </>
      }
    >
      <div>
        <dt>What is not known</dt>
        <dd>
          300 draws of the parameters around the fit (seed {definition.seed}) carry through to every curve: bounds are
          quantiles of the draws, the interval of least cost on the whole has the least mean cost over them, and the
          cost of not knowing better is what the best interval of each draw would have saved. Intervals are compared up
          to a quarter beyond experience; the cost of running until a failure rests on the far tail of the laws, so
          nothing is decided by it.
        </dd>
      </div>
      <div>
        <dt>Limits</dt>
        <dd>
          The last age at which the upper bound of the chance ({formatConfidence(risk.oneSided)}, one-sided) is still
          under what is allowed. Advice, never a clearance.
        </dd>
      </div>
      <div>
        <dt>The redress</dt>
        <dd>
          {result.item === null
            ? "Restores every mode that at least half of the planned redresses restore."
            : `Restores every mode of ${result.item}.`}
        </dd>
      </div>
      {result.sinceDecided === null ? null : (
        <div>
          <dt>Before and since the decision</dt>
          <dd>
            Ratio of rates by exact conditional inference, at the same ages within bands of age of each mode (Breslow
            and Day 1987); a failure counts at the age at which it was found. Whether tools differ: Pearson's statistic
            of failures by tool against 999 allocations drawn by their hours (McCullagh and Nelder 1989). Where they do
            (p under 0.05), the variance of the log ratio is taken by tool (Liang and Zeger 1986), and the bounds are
            the exact ones at the level that it asks for, never narrower; with some twenty tools they still run a little
            short.
          </dd>
        </div>
      )}
    </HowComputed>
  );
}
