import { type SizeForPower, sizeForPower } from "../../practice/power/sizeForPower.ts";
import type { Compared } from "./comparePractice.ts";
import type { Contrast } from "./contrasts.ts";
import { type AlikeLives, livesAlike } from "./livesAlike.ts";
import type { ModeTable } from "./modeTable.ts";
import type { Needed, Settling, SettlingGoal } from "./types.ts";

/** Sets of lives simulated at each size. */
const SETS = 100;

/**
 * What would settle a comparison: failures and runs going on as now, and where serials alternate. Lives are simulated as the shop has them: its tools, follow-up, looks and mixture of everything else, tested as the screen tests.
 *
 * @param level   P-value at which a comparison stands out in this screen.
 * @param tables  The modes of the screen: together they tell the shape that the failures of one mode leave open.
 */
export function settling(
  table: ModeTable,
  contrast: Contrast,
  compared: Compared,
  level: number,
  tables: readonly ModeTable[],
  goal: SettlingGoal,
  seed: number,
): Settling | null {
  const { multiplier, power } = goal;
  const runsHere = new Set(contrast.rows.flatMap((row) => table.rows[row]!.life.runs.map((run) => run.row.key))).size;
  const lives = livesAlike(table, contrast, compared.entanglement.expected, goal, tables, seed);
  if (lives === null) return null;
  const ask = (assumed: AlikeLives) => sizeForPower({ assumed, column: "practice", level, power, runs: SETS, seed });
  const asNow = ask(lives.asNow);
  const alternating = ask(lives.inTrial);
  const needed = ({ times, failures }: SizeForPower): Needed | null =>
    times === null || failures === null ? null : { failures: Math.ceil(failures), runs: Math.ceil(runsHere * times) };
  const now = needed(asNow);
  const times = asNow.times ?? Number.POSITIVE_INFINITY;
  return {
    multiplier,
    power,
    shape: 1 / lives.asNow.spread,
    isShapeStated: goal.shape !== null,
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
