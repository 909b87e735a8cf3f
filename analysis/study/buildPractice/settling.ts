import { type SizeForPower, sizeForPower } from "../../practice/power/sizeForPower.ts";
import type { Compared } from "./comparePractice.ts";
import type { Contrast } from "./contrasts.ts";
import { livesAlike } from "./livesAlike.ts";
import type { ModeTable } from "./modeTable.ts";
import type { Needed, Settling, SettlingGoal } from "./types.ts";

/** Sets of lives simulated at each size. */
const SETS = 100;

/**
 * What would settle a comparison: failures and runs going on as now, and where serials alternate. Lives are simulated as the shop has them: its tools, follow-up, looks and mixture of everything else, tested as the screen tests.
 *
 * @param level  P-value at which a comparison stands out in this screen.
 */
export function settling(
  table: ModeTable,
  contrast: Contrast,
  compared: Compared,
  level: number,
  { multiplier, power }: SettlingGoal,
  seed: number,
): Settling | null {
  const rows = contrast.rows.map((row) => table.rows[row]!);
  const runsHere = new Set(rows.flatMap(({ life }) => life.runs.map((run) => run.row.key))).size;
  const ask = (inTrial: boolean) => {
    const assumed = livesAlike(rows, contrast, compared.entanglement.expected, multiplier, inTrial, seed);
    return assumed && sizeForPower({ assumed, column: "practice", level, power, runs: SETS, seed });
  };
  const asNow = ask(false);
  const alternating = ask(true);
  if (asNow === null || alternating === null) return null;
  const needed = ({ times, failures }: SizeForPower): Needed | null =>
    times === null || failures === null ? null : { failures: Math.ceil(failures), runs: Math.ceil(runsHere * times) };
  const now = needed(asNow);
  const times = asNow.times ?? Number.POSITIVE_INFINITY;
  return {
    multiplier,
    power,
    level,
    powerNow: asNow.now.power.value,
    asNow:
      now === null
        ? null
        : {
            ...now,
            more: Math.ceil(Math.max(0, 1 - 1 / times) * now.failures),
            moreRuns: Math.max(0, now.runs - runsHere),
          },
    alternating: needed(alternating),
  };
}
