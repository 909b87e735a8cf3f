import { AnalysisError } from "../errors.ts";
import { fitWeibull } from "../estimation/fitWeibull.ts";
import { compareGroups } from "../estimation/groups/compareGroups.ts";
import { jointRegion } from "../estimation/groups/jointRegion.ts";
import { ratioOfLives } from "../estimation/groups/ratioOfLives.ts";
import type { LifeSample } from "../estimation/types.ts";
import { comparedGroup, ratioEstimate } from "./comparedGroup.ts";
import { groupOfLife } from "./groupOfLife.ts";
import { twoSidedConfidence } from "./oneSided.ts";
import type { GroupsCompared, LifePartQuestion } from "./partTypes.ts";
import type { PartContext } from "./runLifePart.ts";
import { type SettledLife, sampleOf } from "./settleAges.ts";

type Question = Extract<LifePartQuestion, { readonly kind: "groups" }>;

/**
 * Two groups of the same lives: same shape, same life, and how much longer one lasts. A comparison, not a cause: groups may differ in
 * more than what they are told apart by.
 * Errors  "bad-setting" for a group that is not there.
 */
export function compareTwoGroups(part: PartContext, { by, first, second }: Question): GroupsCompared {
  const { asked, data, definition, isDefect, common, onShare } = part;
  const groupOf = groupOfLife(by, asked.settled, data);
  const named = new Map<string, SettledLife[]>();
  for (const life of asked.settled) {
    const name = groupOf(life.life);
    if (name !== null) named.set(name, [...(named.get(name) ?? []), life]);
  }
  const failuresOf = (lives: readonly SettledLife[]): number => lives.filter(({ upper }) => upper !== null).length;
  const groups = [...named]
    .map(([name, lives]) => ({ name, lives: lives.length, failures: failuresOf(lives) }))
    .sort((a, b) => b.failures - a.failures || b.lives - a.lives || (a.name < b.name ? -1 : 1));
  const base: GroupsCompared = {
    kind: "groups",
    ...common,
    why: isDefect ? "linked modes" : null,
    notices: [],
    by,
    groups,
    compared: null,
  };
  const firstName = first ?? groups.find(({ name }) => name !== second)?.name ?? null;
  const secondName = second ?? groups.find(({ name }) => name !== firstName)?.name ?? null;
  if (isDefect || firstName === null || secondName === null) return base;
  const pick = (name: string): { lives: readonly SettledLife[]; sample: LifeSample } => {
    const lives = named.get(name);
    if (lives === undefined) throw new AnalysisError("bad-setting", { setting: "group", value: name });
    return { lives, sample: sampleOf(lives) };
  };
  const [one, other] = [pick(firstName), pick(secondName)];
  if (firstName === secondName) throw new AnalysisError("bad-setting", { setting: "group", value: firstName });
  if (failuresOf(one.lives) + failuresOf(other.lives) === 0) return { ...base, why: "no fit" };
  const comparison = compareGroups([
    { name: firstName, sample: one.sample },
    { name: secondName, sample: other.sample },
  ]);
  onShare(0.3);
  const confidence = twoSidedConfidence(definition);
  const ratio = ratioEstimate(ratioOfLives(one.sample, other.sample, { confidence }));
  onShare(0.8);
  return {
    ...base,
    compared: {
      first: comparedGroup(firstName, one.lives.length, comparison.groups[0]),
      second: comparedGroup(secondName, other.lives.length, comparison.groups[1]),
      sameShape: comparison.sameShape.pValue,
      sameLife: comparison.sameLife.pValue,
      ratio,
      regions: [regionOf(firstName, one.sample, confidence), regionOf(secondName, other.sample, confidence)].filter(
        (region) => region !== null,
      ),
      confidence,
    },
  };
}

type Region = NonNullable<GroupsCompared["compared"]>["regions"][number];

function regionOf(name: string, sample: LifeSample, confidence: number): Region | null {
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") return null;
  const { estimate, outline } = jointRegion(fit, sample, confidence);
  // Where the region is open the outline begins and ends at the gap.
  const gap = outline.indexOf(null);
  const turned = gap < 0 ? outline : [...outline.slice(gap), ...outline.slice(0, gap)];
  const known = turned.flatMap((point) => (point !== null && Number.isFinite(point.scale) ? [point] : []));
  return {
    name,
    shape: estimate.shape,
    scale: estimate.scale,
    outline: known,
    isOpen: known.length < outline.length,
  };
}
