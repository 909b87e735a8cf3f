import { lifeSample } from "../estimation/lifeSample.ts";
import { poolShapes } from "../estimation/pooled/poolShapes.ts";
import { type ShapePrior, shapePrior } from "../estimation/prior/shapePrior.ts";
import type { Life } from "../lives/types.ts";
import { type SettledLife, sampleOf, settleAges } from "./settleAges.ts";
import type { ShopData } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

/** What the other modes and sizes of the records tell of the shape of one more. */
export interface PooledShape {
  readonly prior: ShapePrior;
  readonly groups: number;
  readonly failures: number;
}

/** A group of fewer failures says nothing of its shape. */
const LEAST_FAILURES = 2;

/**
 * A prior on the shape of the lives asked for, from every other mode and size of the records: a group without a failure of its own is
 * pooled with them (`poolShapes`), and the middle nine tenths of what is then believed of its shape is taken as "between a and b, 90 %
 * sure". The lives asked for are none of it, so that they are not used twice.
 *
 * @param own  The lives asked for.
 * @returns    Null where fewer than two other groups have failures enough.
 * Conventions Groups are tool type, size, item and mode. A mode that leads to another is left out: alone it is fitted wrongly.
 */
export function pooledShape(
  data: ShopData,
  definition: StudyDefinition,
  own: readonly SettledLife[],
): PooledShape | null {
  const asked = new Set(own.map(({ life }) => life.id));
  const leads = new Map<string, boolean>();
  const isDefect = ({ toolType, item, mode }: Life): boolean => {
    const key = JSON.stringify([toolType, item, mode]);
    const known = leads.get(key);
    if (known !== undefined) return known;
    const found = data.modesOf(toolType, item).some((one) => one.mode === mode && one.leadsTo !== null);
    leads.set(key, found);
    return found;
  };
  const byGroup = new Map<string, Life[]>();
  for (const life of data.derived.lives) {
    if (asked.has(life.id) || isDefect(life)) continue;
    const name = JSON.stringify([life.toolType, life.sizeIn, life.item, life.mode]);
    const group = byGroup.get(name);
    if (group) group.push(life);
    else byGroup.set(name, [life]);
  }
  const groups = [...byGroup].flatMap(([name, lives]) => {
    const settled = settleAges(lives, definition.missingHours, data.hoursPerDay);
    const failures = settled.filter(({ upper }) => upper !== null).length;
    return failures >= LEAST_FAILURES ? [{ name, failures, sample: sampleOf(settled) }] : [];
  });
  if (groups.length < 2) return null;
  const nothingFailed = { name: "", sample: lifeSample({ unit: "h", lives: [{ lower: 1, upper: null }] }) };
  const { lower, upper } = poolShapes([...groups, nothingFailed], SURE).groups.at(-1)?.pooled ?? { lower: 0, upper: 0 };
  return {
    prior: shapePrior(lower, upper, SURE),
    groups: groups.length,
    failures: groups.reduce((sum, { failures }) => sum + failures, 0),
  };
}

const SURE = 0.9;
