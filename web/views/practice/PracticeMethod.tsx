import { type BuildPracticeResult, sayMissingHours } from "../../../analysis/index.ts";
import { HowComputed } from "../parts/HowComputed.tsx";

/** How the multipliers came about, and what they cannot say. */
export function PracticeMethod({ result }: { readonly result: BuildPracticeResult }) {
  const { tested, falseDiscoveryRate, definition } = result;
  return (
    <HowComputed
      provenance={result.provenance}
      definition={result.failureDefinition}
      method="Weibull regression of each mode's lives (accelerated life) by maximum likelihood over exact, between-inspection and surviving lives alike; a defect that leads to a failure is fitted together with it. Bounds and tests by likelihood ratio, widened where lives of one tool are more alike than the model knows."
    >
      <div>
        <dt>Adjusted for</dt>
        <dd>
          item, size, technician, well temperature, vibration, customer, date of build, differential pressure, mud, the
          other practices and the season, as far as the lives carry them (one column in eight lives); run conditions as
          the life had met them by its end. The practice as expected from all of these is held, so that only what varied
          on its own speaks.
        </dd>
      </div>
      <div>
        <dt>Cannot tell</dt>
        <dd>
          Where everything else leaves less than 15 % of how a practice varied, its effect and theirs cannot be
          separated.
        </dd>
      </div>
      <div>
        <dt>Many comparisons</dt>
        <dd>
          {tested} were tested together (Benjamini and Hochberg, false discovery rate {falseDiscoveryRate}); bounds of
          those that stand out are widened because they were picked (Benjamini and Yekutieli).
        </dd>
      </div>
      <div>
        <dt>What it cannot say</dt>
        <dd>
          What goes with shorter life need not cause it: something nobody wrote down may go along with both. A trial in
          which serials alternate would tell.
        </dd>
      </div>
      <div>
        <dt>Hours not written down</dt>
        <dd>{sayMissingHours(definition.missingHours)}</dd>
      </div>
    </HowComputed>
  );
}
