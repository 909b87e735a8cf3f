import { median } from "simple-statistics";
import { AnalysisError } from "../errors.ts";
import type { Excluded, Life, NoInformation } from "../lives/types.ts";
import { scopedLives } from "./scopedLives.ts";
import { type SettledLife, settleAges } from "./settleAges.ts";
import { begunWith, betweenDates, inScope, type ShopData } from "./shopData.ts";
import type { ItemLifeResult, StudyDefinition } from "./types.ts";

export type ChosenScope = ItemLifeResult["scope"] & { readonly item: string; readonly mode: string };

/** What a question about the life of an item is answered from. */
export interface LivesAskedFor {
  readonly scope: ChosenScope;
  readonly lives: readonly Life[];
  readonly noInformation: readonly NoInformation[];
  readonly excluded: readonly Excluded[];
  /** The lives with one number an age, as the study treats missing hours. */
  readonly settled: readonly SettledLife[];
  readonly longestAge: number;
  readonly statedAge: number;
  /** The pair of modes that this one belongs to, where it leads to another or another leads to it. */
  readonly link: { readonly defect: string; readonly failure: string } | null;
  /** Lives of another mode of the same item, in the same scope. */
  ofMode(mode: string): readonly Life[];
}

/**
 * The lives restored in scope, of the item and mode asked for or, where left open, of those with most failures.
 * Errors  "no-lives" where the scope holds no item with a failure mode.
 */
export function livesAskedFor(definition: StudyDefinition, data: ShopData): LivesAskedFor {
  const scope = chooseItem(definition, data);
  const inside = <R extends Life | NoInformation | Excluded>(row: R): boolean =>
    inScope(scope, row) && betweenDates(scope.from, scope.to, row.sinceOn);
  const ofMode = (mode: string): readonly Life[] => scopedLives(data, { ...scope, mode });
  const ofCustomer = ({ rows }: NoInformation | Excluded): boolean =>
    begunWith(
      data,
      scope.customer,
      rows.filter(({ table }) => table === "runs").map((row) => ({ row })),
    );
  const lives = ofMode(scope.mode);
  const settled = settleAges(lives, definition.missingHours, data.hoursPerDay);
  return {
    scope,
    lives,
    noInformation: data.derived.noInformationYet.filter((row) => inside(row) && ofCustomer(row)),
    excluded: data.derived.excluded.filter((row) => inside(row) && ofCustomer(row)),
    settled,
    longestAge: settled.reduce((most, { lower, upper }) => Math.max(most, upper ?? lower), 0),
    statedAge: definition.statedAge ?? usualAge(settled),
    link: linkOf(data, lives, scope),
    ofMode,
  };
}

function linkOf(
  data: ShopData,
  lives: readonly Life[],
  { item, mode }: ChosenScope,
): { defect: string; failure: string } | null {
  const modes = lives[0] ? data.modesOf(lives[0].toolType, item) : [];
  const leadsTo = modes.find((one) => one.mode === mode)?.leadsTo;
  if (leadsTo != null) return { defect: mode, failure: leadsTo };
  const defect = modes.find((one) => one.leadsTo === mode)?.mode;
  return defect === undefined ? null : { defect, failure: mode };
}

/** The item and mode asked for; where left open, the one with most failures in scope. */
function chooseItem({ scope }: StudyDefinition, data: ShopData): ChosenScope {
  const { item, mode } = scope;
  if (item !== null && mode !== null) return { ...scope, item, mode };
  const failures = new Map<string, { item: string; mode: string; count: number }>();
  const wanted = { ...scope, from: null, to: null };
  for (const life of data.derived.lives) {
    if (!inScope(wanted, life)) continue;
    const key = `${life.item}\u0000${life.mode}`;
    const entry = failures.get(key) ?? { item: life.item, mode: life.mode, count: 0 };
    if (life.kind !== "right") entry.count++;
    failures.set(key, entry);
  }
  const most = [...failures.values()].sort(
    (a, b) => b.count - a.count || (a.item + a.mode < b.item + b.mode ? -1 : 1),
  )[0];
  if (!most) throw new AnalysisError("no-lives", { item, mode, tool_type: scope.toolType });
  return { ...scope, item: most.item, mode: most.mode };
}

/** The middle length of a life in scope, to ten hours: the age at which reliability is stated unless another is asked. */
function usualAge(settled: readonly SettledLife[]): number {
  if (settled.length === 0) return 100;
  return Math.max(10, Math.round(median(settled.map(({ lower, upper }) => upper ?? lower)) / 10) * 10);
}
