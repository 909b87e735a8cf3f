import { chiSquareUpperTail } from "../../../numerics/index.ts";
import type { Rule } from "../auditContext.ts";
import { cameIn } from "../cameIn.ts";
import { doubt, refOf } from "../doubt.ts";
import { worstGrouping } from "../worstGrouping.ts";

const MIN_ROWS = 30;
/** Share of hours that end on 0 (or on 0 and 5) above which rounding matters; 1 in 10 (2 in 10) end so by chance. */
const HEAPED_SHARE = 0.2;
const HEAPED_SHARE_FIVES = 0.35;
/** One false group in a thousand shops. */
const LEVEL = 0.001;

/**
 * Hours rounded to tens or fives: the last digit before the decimal point of hours from 10 h up, tested against all ten
 * digits alike (chi-square, nine degrees of freedom), by crew or by customer, whichever shows it best. Rounded hours are
 * known to a few hours only; the fit takes them as exact.
 *
 * One row a group: its earliest run on a heap, the others beside it.
 *
 * Source       Last digits are close to even where values spread over many tens: Preece (1981), The Statistician 30,
 *              31-60 (from memory). Limits: common practice, no source.
 * Cannot tell  Which of the runs on a heap was rounded; jobs truly planned in tens of hours.
 */
export const hoursHeaped: Rule = (context) => {
  const runs = cameIn(context)
    .map(({ run }) => run)
    .filter(({ hours }) => hours != null && hours >= 10);
  type Run = (typeof runs)[number];
  const ways = { crew: (run: Run) => run.crew, customer: (run: Run) => run.customer };
  return worstGrouping(runs, ways, judge, LEVEL).flatMap(({ by, name, rows }) => {
    const fives = isFives(rows);
    const [first, ...rest] = rows.filter(({ hours }) => (hours ?? 0) % (fives ? 5 : 10) === 0);
    if (first === undefined) return [];
    return [
      doubt("hours heaped", "runs", first, "hours", {
        group: `${by}: ${name}`,
        others: rest.map((run) => refOf("runs", run)),
        facts: { by, name, heaped: rest.length + 1, runs: rows.length, step: fives ? 5 : 10 },
      }),
    ];
  });
};

type WithHours = { readonly hours?: number | null };

function digits(runs: readonly WithHours[]): number[] {
  const counts = new Array<number>(10).fill(0);
  for (const { hours } of runs) {
    const digit = Math.floor(hours ?? 0) % 10;
    counts[digit] = (counts[digit] ?? 0) + 1;
  }
  return counts;
}

const isFives = (runs: readonly WithHours[]): boolean => (digits(runs)[5] ?? 0) / runs.length > HEAPED_SHARE;

function judge(runs: readonly WithHours[]): number | null {
  if (runs.length < MIN_ROWS) return null;
  const counts = digits(runs);
  const zeros = (counts[0] ?? 0) / runs.length;
  const fives = (counts[5] ?? 0) / runs.length;
  if (zeros <= HEAPED_SHARE && zeros + fives <= HEAPED_SHARE_FIVES) return null;
  const expected = runs.length / 10;
  const statistic = counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  return chiSquareUpperTail(statistic, 9);
}
