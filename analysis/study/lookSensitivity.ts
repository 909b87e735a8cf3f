import { dependenceSensitivity, type WatchedLife } from "../estimation/sensitivity/dependenceSensitivity.ts";
import { detectionSensitivity, type InspectedLife } from "../estimation/sensitivity/imperfectDetection.ts";
import { countLives } from "./lifeCounts.ts";
import { lookAges } from "./lookAges.ts";
import type { LookSensitivity } from "./partTypes.ts";
import type { PartContext } from "./runLifePart.ts";
import type { SettledLife } from "./settleAges.ts";

/**
 * How B10 and median move if looks that followed another failure of the same item were no accident (said where over a tenth were), and
 * if looks missed some of what was there (hidden modes).
 */
export function lookSensitivity({ data, asked, isDefect, common, onShare }: PartContext): LookSensitivity {
  const { settled } = asked;
  const nothing: LookSensitivity = {
    kind: "looks",
    ...common,
    why: isDefect ? "linked modes" : "no fit",
    notices: [],
    share: 0,
    dependence: [],
    detection: [],
  };
  const followed = settled.filter((life) => lastAge(life) > life.entry);
  if (isDefect || !followed.some(({ upper }) => upper !== null)) return nothing;
  const looks = lookAges(followed, data);
  const watched = followed.map(asWatched);
  const { looks: closing, informativeLooks } = countLives(asked.lives, 0, 0);
  const share = closing === 0 ? 0 : informativeLooks / closing;
  const isHidden = looks.some((ages) => ages !== null);
  const dependence = share > WORTH_SHOWING ? dependenceSensitivity(watched, "h") : null;
  onShare(0.6);
  const detection = isHidden
    ? detectionSensitivity(
        followed.map((life, row) => asInspected(life, looks[row] ?? [])),
        "h",
      )
    : null;
  return {
    ...nothing,
    why: null,
    share,
    dependence: (dependence?.rows ?? []).map(({ tau, b10, median }) => ({ setting: tau, b10, median })),
    detection: (detection?.rows ?? []).map(({ detection: seen, b10, median }) => ({ setting: seen, b10, median })),
    notices: [...(dependence?.notices ?? []), ...(detection?.notices ?? [])],
  };
}

/** Over a tenth, as the notice of informative looks. */
const WORTH_SHOWING = 0.1;

const middle = (low: number, high: number | null): number => 0.5 * (low + (high ?? low));
const lastAge = ({ lower, lowerHigh, upper, upperHigh }: SettledLife): number =>
  upper === null ? middle(lower, lowerHigh) : middle(upper, upperHigh);

function asWatched(settled: SettledLife): WatchedLife {
  const { life, lower, lowerHigh, upper, upperHigh, entry } = settled;
  const last = lastAge(settled);
  return {
    lower: upper === lower ? last : Math.min(middle(lower, lowerHigh), last),
    upper: upper === null ? null : middle(upper, upperHigh),
    entry,
    failedOtherwiseAt: life.informative && life.kind !== "exact" ? last : null,
  };
}

/** The looks before the last one found nothing; the last one is where the life closed. */
function asInspected(settled: SettledLife, looks: readonly number[]): InspectedLife {
  const { upper, entry } = settled;
  const last = lastAge(settled);
  return {
    looks: [...new Set([...looks.filter((age) => age < last), last])],
    found: upper !== null,
    entry,
  };
}
