import type { Row } from "../descriptor.ts";
import type { AuditShop, ShopLook, ToolStory } from "./auditShop.ts";
import { compareNumbers } from "./inOrder.ts";

/** A teardown that does not fit its own serial, and the serials whose missing teardown it would fill. */
export interface StrayTeardown {
  readonly teardown: Row<"teardowns">;
  readonly why: Oddity;
  readonly day: number;
  /** Best fit first; several only where they fit equally well. */
  readonly candidates: readonly Gap[];
}

export type Oddity = "out that day" | "not run since its redress" | "ran on without a redress" | "torn down twice";

/** A tool that came in and was redressed, or not heard of again, with no teardown written down. */
export interface Gap {
  readonly serial: string;
  readonly fromDay: number;
  readonly toDay: number;
  /** Null where the records of the tool end. */
  readonly redress: Row<"redresses"> | null;
}

/** A tool of which nothing was heard for this long after the teardown is no candidate. Common practice, no source. */
const STILL_WAITING_DAYS = 60;
/** Two teardowns further apart than this, with no run between, are two looks. Common practice, no source. */
const TWICE_DAYS = 30;

/**
 * Teardowns suspected to belong to another serial: odd for their own tool, while one of the same type and size lacks
 * one. A teardown of a tool that was out that day is a stray even where no other tool lacks one.
 */
export function strayTeardowns(shop: AuditShop): readonly StrayTeardown[] {
  const gaps = new Map<string, Gap[]>();
  for (const story of shop.stories.values()) {
    const kind = kindOfTool(story);
    if (kind !== null) gaps.set(kind, [...(gaps.get(kind) ?? []), ...gapsOf(story)]);
  }
  const strays: StrayTeardown[] = [];
  for (const story of shop.stories.values()) {
    const near = gaps.get(kindOfTool(story) ?? "") ?? [];
    for (const look of story.looks) {
      if (!look.stripped) continue;
      const why = oddityOf(look, story);
      if (why === null) continue;
      const candidates = bestGaps(shop, look, near, story.serial, why === "out that day");
      if (candidates.length > 0 || why === "out that day")
        strays.push({ teardown: look.teardown, day: look.day, why, candidates });
    }
  }
  return oneAGap(shop, strays);
}

const kindOfTool = ({ tool }: ToolStory): string | null =>
  tool === null ? null : JSON.stringify([tool.tool_type, tool.size_in ?? null]);

function gapsOf(story: ToolStory): readonly Gap[] {
  const gaps: Gap[] = [];
  const ends = [...story.redresses.map(({ redress, day }) => ({ redress, day })), { redress: null, day: Infinity }];
  let since = -Infinity;
  for (const { redress, day } of ends) {
    const cameIn = story.runs.flatMap(({ inDay }) => (inDay !== null && inDay >= since && inDay <= day ? [inDay] : []));
    const last = Math.max(...cameIn, -Infinity);
    const stillOut = redress === null && story.runs.some(({ inDay, outDay }) => inDay === null && outDay >= since);
    const tornDown = story.looks.some((look) => look.stripped && look.day >= last && look.day <= day);
    if (cameIn.length > 0 && !tornDown && !stillOut)
      gaps.push({ serial: story.serial, fromDay: last, toDay: day, redress });
    since = day;
  }
  return gaps;
}

function oddityOf(look: ShopLook, { runs, looks, redresses }: ToolStory): Oddity | null {
  const { day } = look;
  if (runs.some(({ outDay, inDay }) => outDay < day && (inDay === null || day < inDay))) return "out that day";
  const built = redresses.filter((row) => row.day < day).at(-1);
  const ranSince = runs.some(({ inDay }) => inDay !== null && inDay <= day && (!built || inDay >= built.day));
  if (built && !ranSince) return "not run since its redress";
  const next = redresses.find((row) => row.day >= day);
  const runsNext = runs.find(({ outDay }) => outDay >= day);
  if (runsNext && (!next || next.day > runsNext.outDay)) return "ran on without a redress";
  const twice = looks.some(
    (other) =>
      other !== look &&
      other.stripped &&
      Math.abs(other.day - day) <= TWICE_DAYS &&
      ![...runs.map(({ outDay }) => outDay), ...redresses.map((row) => row.day)].some(
        (between) => between >= Math.min(day, other.day) && between < Math.max(day, other.day),
      ),
  );
  return twice ? "torn down twice" : null;
}

function bestGaps(shop: AuditShop, look: ShopLook, near: readonly Gap[], own: string, out: boolean): readonly Gap[] {
  const open = near.filter(
    (gap) =>
      gap.serial !== own &&
      gap.fromDay <= look.day &&
      look.day <= gap.toDay &&
      (gap.redress !== null || (out && look.day - gap.fromDay <= STILL_WAITING_DAYS)),
  );
  const misfits = open.map((gap) => misfit(shop, look.teardown, gap));
  const best = Math.min(...misfits);
  return open
    .filter((_, index) => misfits[index] === best)
    .sort((a, b) => Number(a.redress === null) - Number(b.redress === null) || compareNumbers(a.serial, b.serial));
}

/** What was renewed or made up at the redress though the teardown's checklist did not cover it; 0 fits. */
function misfit(shop: AuditShop, { scope, why }: Row<"teardowns">, { redress }: Gap): number {
  if (redress === null) return 0.5;
  const reason = (why === "tool failure") === (redress.reason === "failure") ? 0 : 1;
  if (scope == null) return reason;
  const covered = new Set(scope);
  const touched = [
    ...(shop.jointsOf.get(redress.redress) ?? []).map(({ joint }) => joint),
    ...(shop.fittedOf.get(redress.redress) ?? []).flatMap(({ item, renewed }) => (renewed ? [item] : [])),
  ];
  return reason + new Set(touched.filter((item) => !covered.has(item))).size;
}

/** One gap is filled by one teardown: of several strays the one that fits it best, then the one clearest on its own. */
function oneAGap(shop: AuditShop, strays: readonly StrayTeardown[]): readonly StrayTeardown[] {
  const takes = new Map<string, StrayTeardown>();
  const gapKey = (gap: Gap) => JSON.stringify([gap.serial, gap.fromDay]);
  const weight = (stray: StrayTeardown, gap: Gap) =>
    misfit(shop, stray.teardown, gap) + (stray.why === "torn down twice" ? 0.1 : 0);
  for (const stray of strays) {
    for (const gap of stray.candidates) {
      const other = takes.get(gapKey(gap));
      if (other === undefined || weight(stray, gap) < weight(other, gap)) takes.set(gapKey(gap), stray);
    }
  }
  return strays.flatMap((stray) => {
    const candidates = stray.candidates.filter((gap) => takes.get(gapKey(gap)) === stray);
    return candidates.length > 0 || stray.why === "out that day" ? [{ ...stray, candidates }] : [];
  });
}
