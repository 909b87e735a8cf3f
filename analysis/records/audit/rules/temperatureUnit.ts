import { median, medianAbsoluteDeviation } from "simple-statistics";
import type { Row } from "../../descriptor.ts";
import { convertUnit } from "../../units.ts";
import type { Rule } from "../auditContext.ts";
import { doubt } from "../doubt.ts";
import { medianLine } from "../medianLine.ts";
import { oddsOfOther } from "../oddsOfOther.ts";

const MIN_RUNS = 20;
/** One temperature in a hundred in the wrong unit before looking at it. Common practice, no source. */
const PRIOR = 0.01;
/** Gauges and bottoms differ by this much at least, degC. Common practice, no source. */
const LEAST_SPREAD = 3;

/**
 * A temperature too cool for its depth that would fit if its number were degC (degC in a degF column), or too hot and
 * would fit if its number were degF. What fits is the shop's own: a line through its temperatures against depth, of
 * medians so that the suspects do not bend it; without depths the shop's middle temperature.
 *
 * Source       Trade practice doubts temperatures too cool for the depth; odds of two normal laws, spread from the median
 *              absolute deviation. Common practice, no source.
 * Cannot tell  A truly cool well; fewer than 20 temperatures to compare with. The two units meet at -40 degrees and lie
 *              within 30 degC of each other below 55 degC (degF number of 27 degC and less): little can be told there.
 */
export const temperatureUnit: Rule = ({ records }) => {
  const runs = (records.runs ?? []).filter((run) => run.max_temperature_C != null);
  if (runs.length < MIN_RUNS) return [];
  const withDepth = runs.filter((run) => run.depth_m != null);
  const expected = {
    byDepth: withDepth.length >= MIN_RUNS ? usualOf(withDepth, true) : null,
    overall: usualOf(runs, false),
  };
  return runs.flatMap((run) => {
    const { at, spread } = (run.depth_m != null ? expected.byDepth : null) ?? expected.overall;
    const written = run.max_temperature_C ?? 0;
    const usual = at(run.depth_m ?? 0);
    const colder = usual > written;
    const meant = colder ? convertUnit(written, "°C", "°F") : convertUnit(written, "°F", "°C");
    if (oddsOfOther(written - usual, meant - usual, spread, PRIOR) <= 0) return [];
    return [
      doubt("temperature unit suspect", "runs", run, "max_temperature_C", {
        facts: {
          run: run.run,
          serial: run.serial,
          written,
          usual: Math.round(usual),
          depth: run.depth_m ?? null,
          meant: colder ? "degC" : "degF",
        },
        proposes: Number(meant.toPrecision(10)),
      }),
    ];
  });
};

function usualOf(runs: readonly Row<"runs">[], byDepth: boolean) {
  const points = runs.map((run) => [byDepth ? (run.depth_m ?? 0) : 0, run.max_temperature_C ?? 0] as const);
  const at = byDepth ? medianLine(points) : () => middle;
  const middle = median(points.map(([, y]) => y));
  const spread = 1.4826 * medianAbsoluteDeviation(points.map(([x, y]) => y - at(x)));
  return { at, spread: Math.max(LEAST_SPREAD, spread) };
}
