/** A build or redress: renews items, makes joints up, restores modes, and writes it down. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import { dateOf } from "./days.ts";
import { compounds, type Fitted, fittedMultiplier, type MakeUp, makeUpMultiplier } from "./multipliers.ts";
import { randomStream } from "./random.ts";
import { footPounds, thousandths } from "./shopUnits.ts";
import type { ToolState } from "./toolState.ts";
import type { ItemOfType } from "./toolTypes.ts";
import { closeModes, drawAge, type ItemInUse, type ModeInUse } from "./trueLife.ts";
import { confoundedTruths, effectTruths, type ModeTruth, practiceTruths } from "./truth.ts";

const notFitted: Fitted = { badLot: false, hardness: null, gapMm: null };
const oldThread: MakeUp = { newThread: false, ratio: 1, cycles: 3, frictionFactor: 1, locker: null };
const lotDays = 45;

/** Who builds: bias and spread of the torque ratio, cycles on new threads, and whether the target follows the compound. */
interface Technician {
  readonly name: string;
  readonly torqueBias: number;
  readonly torqueSd: number;
  readonly cycles: number;
  readonly corrects: boolean;
}

type FittedRow = { -readonly [K in keyof Row<"fitted_items">]: Row<"fitted_items">[K] };

/** @param passes  false for a build that fails its pressure test. */
export function buildTool(tool: ToolState, day: number, passes: boolean): void {
  const { book, plan, type, serial } = tool;
  const { build } = tool.draws;
  const redress = book.nextRedress();
  const technician = technicianOf(tool);
  const first = tool.items.size === 0;
  book.redresses.push({
    redress,
    serial,
    done_on: dateOf(day),
    reason: plan.reason,
    technician: technician.name,
    pressure_test: passes ? "pass" : "fail",
    overall_length_mm: 2400 + (tool.size === 6.5 ? 650 : 0) + build.integer(0, 14),
  });

  for (const item of type.items) {
    const before = tool.items.get(item.item);
    const enters = first && plan.inUseBefore && item.kind !== "seal" && item.item !== "index pin";
    const renewed = !enters && (first || plan.renew.has(item.item));
    const opened = first || renewed || plan.opened.has(item.item);
    const fresh = renewed || enters;
    const row: FittedRow = { redress, item: item.item, renewed };

    let madeUp = oldThread;
    if (item.kind === "joint" && opened) madeUp = makeUp(tool, item, redress, renewed, technician);
    let fitted = notFitted;
    if (renewed && (item.kind === "seal" || item.kind === "stack")) fitted = fitElastomer(tool, item, day, row);

    if (fresh) {
      if (before !== undefined) closeModes(before, "restored");
      const entryAge = enters ? Math.round(build.between(80, 700)) : 0;
      if (enters && build.chance(0.7)) row.age_at_fitting_h = entryAge;
      const itemSerial = item.item === "anti-rotation pin" ? book.nextPin() : null;
      const inUse: ItemInUse = { item, itemSerial, age: entryAge, modes: [] };
      tool.items.set(item.item, inUse);
      restoreModes(tool, inUse, day, redress, madeUp, fitted, entryAge, () => true);
    } else if (item.kind === "joint" && opened && before !== undefined) {
      const madeUpModes = (truth: ModeTruth) => truth.restoredBy === "made up";
      closeModes(before, "restored", madeUpModes);
      restoreModes(tool, before, day, redress, madeUp, notFitted, 0, madeUpModes);
    } else if (item.item === "anti-rotation pin" && opened && plan.reason === "planned") {
      swapPin(tool, day, redress, row);
    }
    row.item_serial = tool.items.get(item.item)?.itemSerial ?? null;
    book.fittedItems.push(row);
  }
  tool.hoursSinceRedress = 0;
  const { from, to } = practiceTruths.redressIntervalHours;
  tool.hoursTarget = tool.draws.use.between(from, to);
}

/** Who builds, and how. In the confounded shop the crew decides the torque and the wells, but for the crews that do either. */
function technicianOf(tool: ToolState): Technician {
  const { build } = tool.draws;
  const { confounded } = tool.options;
  if (confounded === undefined) return build.pick(practiceTruths.technicians);
  const { crews, lowRatio, torqueSd } = confoundedTruths;
  const crew = build.integer(1, crews);
  const isLowCrew = crew <= crews / 2;
  // Mixed crews are taken from both halves in turn: 1, 5, 2, 6 ...
  const turn = isLowCrew ? 2 * crew - 1 : 2 * (crew - crews / 2);
  const isMixed = turn <= Math.round(confounded.mixedCrews * crews);
  const isLow = isMixed ? build.chance(0.5) : isLowCrew;
  tool.roughWells = isLowCrew;
  return { name: `crew ${crew}`, torqueBias: isLow ? lowRatio - 1 : 0, torqueSd, cycles: 3, corrects: true };
}

function makeUp(
  tool: ToolState,
  item: ItemOfType,
  redress: string,
  newThread: boolean,
  technician: Technician,
): MakeUp {
  const { build } = tool.draws;
  const design = item.designFootPounds ?? 0;
  const compound = build.pick(compounds);
  const target = Math.round((design * (technician.corrects ? compound.friction_factor : 1)) / 10) * 10;
  const final =
    Math.round((target * Math.max(0.7, build.normal(1 + technician.torqueBias, technician.torqueSd))) / 10) * 10;
  const cycles = newThread ? Math.max(0, technician.cycles - (build.chance(0.25) ? 1 : 0)) : 1;
  const locker = build.chance(0.35) ? "medium" : null;
  tool.book.joints.push({
    redress,
    joint: item.item,
    new_thread: newThread,
    target_torque_Nm: footPounds(target),
    final_torque_Nm: footPounds(final),
    make_break_cycles: cycles,
    compound: compound.compound,
    threadlocker: locker,
    shoulder_treatment: build.chance(0.15) ? "anti-seize" : null,
    torque_tool: build.chance(0.6) ? "TM-1" : "TM-2",
  });
  return { newThread, ratio: final / design, cycles, frictionFactor: compound.friction_factor, locker };
}

function fitElastomer(tool: ToolState, item: ItemOfType, day: number, row: FittedRow): Fitted {
  const { build } = tool.draws;
  const lot = Math.floor(day / lotDays);
  const badLot = randomStream(tool.options.seed, `lot/${item.kit}/${lot}`).chance(effectTruths.badLot.share);
  row.lot = `${item.kit?.slice(2)}-${lot}`;
  row.cured_on = dateOf(lot * lotDays - 60);
  row.elastomer = build.chance(0.8) ? "HNBR" : "FKM";
  if (item.kind === "stack") return { badLot, hardness: null, gapMm: null };
  const hardness = Math.min(92, Math.max(72, Math.round(build.normal(82, 3))));
  const gapMm = thousandths(build.integer(4, 11));
  row.hardness_shoreA = hardness;
  row.hardness_is = "measured";
  row.gap_mm = gapMm;
  row.backup_ring = build.chance(0.7) ? "both sides" : "one side";
  return { badLot, hardness, gapMm };
}

function restoreModes(
  tool: ToolState,
  inUse: ItemInUse,
  day: number,
  redress: string,
  madeUp: MakeUp,
  fitted: Fitted,
  entryAge: number,
  which: (truth: ModeTruth) => boolean,
): void {
  const { effects } = tool.options;
  const { life: draw } = tool.draws;
  const entrySound = entryAge > 0 && tool.plan.lookedAtOnEntry;
  for (const truth of inUse.item.modes) {
    if (!which(truth)) continue;
    // What a make-up restores begins at 0 even where the joint brings hours of its own.
    const modeEntry = truth.restoredBy === "made up" ? 0 : entryAge;
    let multiplier = tool.factor * (effects.size && tool.size === 6.5 ? truth.largeSize : 1);
    multiplier *= makeUpMultiplier(truth, madeUp, tool.options) * fittedMultiplier(truth, fitted, effects);
    const earlier = truth.after === null ? null : inUse.modes.find((mode) => mode.truth.mode === truth.after);
    const delay = earlier ? drawAge(draw, truth.law, 1, 0) : null;
    const latentAge = earlier
      ? earlier.life.latentAge + (delay ?? 0)
      : drawAge(draw, truth.law, multiplier, entrySound ? modeEntry : 0);
    const mode: ModeInUse = {
      truth,
      clock: modeEntry,
      age: modeEntry,
      life: {
        serial: tool.serial,
        item: inUse.item.item,
        itemSerial: inUse.itemSerial,
        mode: truth.mode,
        since: redress,
        sinceOn: dateOf(day),
        law: truth.law,
        multiplier: earlier ? 1 : multiplier,
        entryAge: modeEntry,
        entrySound: entrySound && modeEntry > 0,
        latentAge,
        delay,
        failedAt: latentAge <= modeEntry ? latentAge : null,
        endAge: modeEntry,
        ended: "running",
        causeAt: null,
      },
    };
    const index = inUse.modes.findIndex((known) => known.truth === truth);
    if (index < 0) inUse.modes.push(mode);
    else inUse.modes[index] = mode;
    tool.book.trueLives.push(mode.life);
  }
}

/**
 * Now and then a sound used pin comes off and goes on the shelf. In its place goes one that came off another tool
 * earlier, with the age it has; where the shelf is empty, a new one.
 */
function swapPin(tool: ToolState, day: number, redress: string, row: FittedRow): void {
  const { book } = tool;
  const swap = tool.draws.build.chance(0.08);
  const own = tool.items.get(row.item);
  if (!swap || !tool.options.dirt.swappedItems || own === undefined) return;
  if (own.modes.some((mode) => mode.life.failedAt !== null)) return;
  const other = book.usedPins.shift();
  book.usedPins.push(own);
  if (other !== undefined) {
    tool.items.set(row.item, other);
    book.happen("item swapped", "fitted_items", redress, row.item);
    return;
  }
  const inUse: ItemInUse = { item: own.item, itemSerial: book.nextPin(), age: 0, modes: [] };
  row.renewed = true;
  tool.items.set(row.item, inUse);
  restoreModes(tool, inUse, day, redress, oldThread, notFitted, 0, () => true);
}
