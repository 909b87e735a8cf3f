/** A teardown: opens items by a schedule of its own, writes what it sees, and decides what the redress renews. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import { dateOf } from "./days.ts";
import { shopMeasure } from "./shopMeasure.ts";
import type { ToolState } from "./toolState.ts";
import type { ItemInUse, ModeInUse } from "./trueLife.ts";
import { effectTruths, practiceTruths } from "./truth.ts";

type Finding = Row<"findings">;

const looksAt: Readonly<Record<string, number>> = practiceTruths.looksAt;
const renewedByAge: Readonly<Record<string, { readonly hours: number; readonly probability: number }>> =
  practiceTruths.renewedByAge;

export function tearDown(tool: ToolState, day: number, why: "planned" | "tool failure"): void {
  const { book, draws, options } = tool;
  const teardown = book.nextTeardown();
  const opened = new Set<string>();
  const renew = new Set<string>();
  const written: Finding[] = [];

  for (const inUse of tool.items.values()) {
    const name = inUse.item.item;
    const looks = draws.look.chance(looksAt[name] ?? 1) || tool.reported?.item === name;
    if (!looks) continue;
    opened.add(name);
    const found = lookAt(tool, inUse, teardown);
    const failed = found.some((finding) => (finding.severity ?? 0) >= 3);
    if (renewsAfter(tool, inUse, found, failed)) renew.add(name);
    const leftOut = draws.habit.chance(0.3);
    if (found.length > 0) written.push(...found);
    else if (!(options.dirt.soundUnwritten && leftOut)) written.push(soundFinding(tool, inUse, teardown));
  }

  const scope = tool.type.items.filter((item) => opened.has(item.item)).map((item) => item.item);
  book.teardowns.push({
    teardown,
    serial: tool.serial,
    done_on: dateOf(day),
    why,
    scope,
    kind: "stripped",
    technician: draws.habit.pick(practiceTruths.technicians).name,
  });
  book.findings.push(...written);
  if (tool.silentLeak) book.happen("leaking tool coded planned", "teardowns", teardown);
  tool.silentLeak = false;
  tool.reported = null;
  const upgrade = draws.look.chance(0.015);
  const reason = why === "tool failure" ? "failure" : upgrade ? "upgrade" : "planned";
  tool.plan = { reason, opened, renew, inUseBefore: false, lookedAtOnEntry: false };
}

function lookAt(tool: ToolState, inUse: ItemInUse, teardown: string): Finding[] {
  const { look } = tool.draws;
  const found: Finding[] = [];
  const failed = inUse.modes.filter((mode) => mode.life.failedAt !== null);
  // A leak that the run record named is not written again where the finding tells its mechanism.
  const toWrite = failed.filter(
    ({ truth }) =>
      !(truth.after !== null && tool.reported?.item === inUse.item.item && tool.reported.mode === truth.mode),
  );
  for (const mode of toWrite) found.push(failedFinding(tool, inUse, mode, teardown));
  for (const mode of inUse.modes) {
    const nearlyFailed =
      mode.life.failedAt === null && mode.truth.after === null && mode.clock > 0.88 * mode.life.latentAge;
    if (nearlyFailed && mode.truth.announces === "hidden" && look.chance(0.6)) {
      found.push({ ...base(tool, inUse, teardown, mode.truth.mode), severity: 2, disposition: "reused" });
    }
  }
  const consequence = backOffBringsGalling(tool, inUse);
  if (consequence) {
    // One row a mode: the consequence takes the place of the milder finding of the same.
    const milder = found.findIndex(({ condition }) => condition === "galling");
    if (milder >= 0) found.splice(milder, 1);
    found.push({
      ...base(tool, inUse, teardown, "galling"),
      severity: 3,
      caused_by: "back-off",
      cause: "back-off",
      disposition: "recut",
      photo: `${teardown}/${inUse.item.item}`,
    });
  }
  return found;
}

function backOffBringsGalling(tool: ToolState, inUse: ItemInUse): boolean {
  const backOff = inUse.modes.find((mode) => mode.truth.mode === "back-off");
  const galling = inUse.modes.find((mode) => mode.truth.mode === "galling");
  if (backOff === undefined || galling === undefined || backOff.life.failedAt === null) return false;
  const brings = tool.draws.look.chance(effectTruths.gallingFromBackOff) && tool.options.effects.consequences;
  if (!brings || galling.life.failedAt !== null || galling.life.causeAt !== null) return false;
  galling.life.causeAt = galling.age - (backOff.age - backOff.life.failedAt);
  return true;
}

function failedFinding(tool: ToolState, inUse: ItemInUse, mode: ModeInUse, teardown: string): Finding {
  const { look } = tool.draws;
  const since = mode.age - (mode.life.failedAt ?? mode.age);
  const severe = look.chance(mode.truth.announces === "evident" ? 0.7 : Math.min(0.6, since / 150));
  const silent = tool.silentLeak && mode.truth.announces === "evident";
  return {
    ...base(tool, inUse, teardown, mode.truth.mode),
    severity: severe && !silent ? 4 : 3,
    disposition: inUse.item.kind === "joint" ? (mode.truth.mode === "galling" ? "recut" : "made up again") : "replaced",
    cause: "not yet determined",
    photo: look.chance(0.5) ? `${teardown}/${inUse.item.item}` : null,
  };
}

const soundFinding = (tool: ToolState, inUse: ItemInUse, teardown: string): Finding => ({
  ...base(tool, inUse, teardown, "sound"),
  severity: 0,
  disposition: "reused",
});

function base(tool: ToolState, inUse: ItemInUse, teardown: string, condition: string): Finding {
  return { teardown, item: inUse.item.item, condition, ...shopMeasure(tool, inUse) };
}

function renewsAfter(tool: ToolState, inUse: ItemInUse, found: readonly Finding[], failed: boolean): boolean {
  const { look } = tool.draws;
  const { item } = inUse;
  if (item.kind === "seal") {
    const young = inUse.age < practiceTruths.sealCarriedOver.hours;
    // Carried over by age and soundness alone: a degraded seal that went early would make its censoring informative.
    const good = tool.options.effects.renewDegraded ? found.length === 0 : !failed;
    return !(young && good && look.chance(practiceTruths.sealCarriedOver.probability));
  }
  if (item.item === "index pin") return true;
  if (item.kind === "joint") {
    const galled = found.some((finding) => finding.condition === "galling" && (finding.severity ?? 0) >= 3);
    return galled || look.chance(practiceTruths.threadsRecut);
  }
  const byAge = renewedByAge[item.item];
  const old = byAge !== undefined && inUse.age > byAge.hours && look.chance(byAge.probability);
  if (failed) {
    const refit = look.chance(0.05) && tool.options.dirt.refittedFailed && item.kind !== "body";
    if (refit)
      tool.book.happen(
        "failed item refitted",
        "findings",
        found[0]?.teardown ?? "",
        item.item,
        found[0]?.condition ?? "",
      );
    return !refit;
  }
  return old || (tool.options.effects.renewDegraded && found.length > 0);
}
