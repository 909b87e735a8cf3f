import type { RedressIntervalResult } from "../study/decisionTypes.ts";
import { formatHours } from "./formatAge.ts";
import { formatEstimate } from "./formatEstimate.ts";
import { formatNumber } from "./formatNumber.ts";
import { sentenceCase } from "./inWords.ts";
import { sayRange } from "./sayInterval.ts";

/** What a picture of a redress interval shows, as its heading. */
export function sayIntervalFinding(result: RedressIntervalResult, picture: "cost" | "before" | "run"): string {
  const name = sentenceCase(result.item ?? result.toolType);
  const { recommended, verdict, risk } = result;
  if (picture === "cost") {
    if (verdict.because === "nothing stops a job") return `${name}: nothing here stops a job, so the cost only falls`;
    if (recommended === null) return `${name}: no interval is cheaper than running on`;
    return `${name}: the cost is flat between ${sayRange(recommended)}, ${formatEstimate(recommended.costRate)} per 1,000 h`;
  }
  const limit = picture === "before" ? risk.beforeRedress : risk.nextRun;
  const allowed = `${formatNumber(100 * risk.allowedChance)} %`;
  const what =
    picture === "before"
      ? "chance of a stopped job before the redress"
      : `chance in a ${formatHours(risk.runHours)} run`;
  if (limit.age === null) return `${name}: the ${what} is above ${allowed} from the start`;
  if (limit.beyondGrid) return `${name}: the ${what} stays under ${allowed}`;
  return `${name}: the ${what} can reach ${allowed} at ${formatHours(Math.floor(limit.age))}`;
}
