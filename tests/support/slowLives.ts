// A second derivation of lives, written from the text of the design alone: slow, obvious, and built the other way round.
// It walks the calendar day by day over the whole shop, keeps a diary for every restoration of every mode (which runs it
// saw, which looks saw it), and reads each diary afterwards. Where the text leaves a choice open, a comment says so.
import type { Records, Row } from "../../analysis/records/descriptor.ts";

type Item = Row<"tool_items">;
type Mode = Row<"modes">;
type Run = Row<"runs">;
type Finding = Row<"findings">;
type Range = readonly [low: number, high: number];

/** A moment of the calendar: the event with this number, so many hours into it where it is a run. */
interface Moment {
  readonly stamp: number;
  readonly into: Range;
}
interface Look {
  readonly stamp: number;
  readonly teardown: Row<"teardowns">;
  readonly findings: readonly Finding[];
  /** What was in the tool when it was looked at, by `item: mode`. */
  readonly diaries: ReadonlyMap<string, Diary>;
}
interface RunIn {
  readonly stamp: number;
  readonly run: Run;
  readonly hours: Range;
}
/** Everything that happened to one mode of one item from one restoration to the next. */
interface Diary {
  readonly serial: string;
  readonly item: Item;
  readonly mode: Mode;
  readonly since: string;
  readonly startStamp: number;
  readonly entry: number;
  /** Why nothing can be said of this restoration from the start. */
  readonly refused: string | null;
  readonly testFailed: boolean;
  replacedByNew: boolean;
  readonly entries: ({ readonly run: RunIn } | { readonly look: Look })[];
}
/** One physical thing, whichever tool it is in. */
interface Thing {
  serial: string | null;
  tool: string | null;
  readonly item: Item;
  readonly diaries: Map<string, Diary>;
}
type Reading =
  | { readonly end: "failed"; readonly exact: boolean; readonly lower: Moment; readonly upper: Moment }
  | { readonly end: "struck"; readonly sound: Moment; readonly at: Look; readonly cause: Diary | null }
  | { readonly end: "open"; readonly sound: Moment };

export interface SlowRow {
  readonly serial: string;
  readonly item: string;
  readonly mode: string;
  readonly since: string;
}
export interface SlowLife extends SlowRow {
  readonly kind: "exact" | "right" | "left" | "interval";
  readonly lower: number | Range;
  readonly upper: number | Range | null;
  readonly entry: number;
}
export interface SlowLives {
  readonly lives: readonly SlowLife[];
  readonly noInformationYet: readonly (SlowRow & { readonly reason: string })[];
  readonly excluded: readonly (SlowRow & { readonly reason: string })[];
}

const numbered = new Intl.Collator("en", { numeric: true }).compare;
const day = (date: string): number => Date.parse(`${date}T00:00:00Z`) / 86_400_000;
const nothing: Range = [0, 0];
const add = (a: Range, b: Range): Range => [a[0] + b[0], a[1] + b[1]];
const rounded = (hours: number): number => Math.round(hours * 1e6) / 1e6;
const out = (range: Range): number | Range => {
  const [low, high] = [rounded(range[0]), rounded(range[1])];
  return low === high ? low : [low, high];
};
const isBefore = (a: Moment, b: Moment): boolean => a.stamp < b.stamp || (a.stamp === b.stamp && a.into[0] < b.into[0]);

export function slowLives(records: Records, { cutoff }: { readonly cutoff: string }): SlowLives {
  const diaries = walkTheCalendar(records, day(cutoff));
  const readings = new Map(diaries.map((diary) => [diary, readDiary(diary)]));
  const lives: SlowLife[] = [];
  const noInformationYet: (SlowRow & { reason: string })[] = [];
  const excluded: (SlowRow & { reason: string })[] = [];
  for (const diary of diaries) {
    const bounded = boundedByItsFailure(diary, readings, diaries);
    const row = { serial: diary.serial, item: diary.item.item, mode: diary.mode.mode, since: diary.since };
    const ran = diary.entries.some((entry) => "run" in entry);
    // Where two reasons hold, the text does not say which to give: a reject is told first, as the product does.
    if (diary.testFailed && diary.replacedByNew && !ran) excluded.push({ ...row, reason: "build reject" });
    else if (diary.refused !== null) excluded.push({ ...row, reason: diary.refused });
    else {
      const life = lifeOf(diary, bounded, readings, diaries);
      if (life.kind !== "right" && highest(life.upper ?? 0) <= diary.entry) {
        // Failed before it ever ran: never an age of 0, nor of the hours it was fitted with.
        excluded.push({ ...row, reason: "build reject" });
        continue;
      }
      const nothingTold = life.kind === "right" && highest(life.lower) <= diary.entry;
      if (!nothingTold) lives.push({ ...row, ...life, entry: diary.entry });
      else noInformationYet.push({ ...row, reason: whyNothing(diary, ran, readings.get(diary)) });
    }
  }
  return { lives, noInformationYet, excluded };
}

const highest = (age: number | Range): number => (typeof age === "number" ? age : age[1]);

function whyNothing(diary: Diary, ran: boolean, reading: Reading | undefined): string {
  if (!ran) return "never ran";
  const until = reading?.end === "struck" ? reading.at.stamp : Infinity;
  const looks = diary.entries.flatMap((entry) => ("look" in entry && entry.look.stamp < until ? [entry.look] : []));
  const fromOutside = (look: Look) =>
    !isCleanFor(look, diary.item, diary.mode) &&
    !isDestroyed(look, diary.item) &&
    failureFound(look, diary.item, diary.mode) === undefined;
  const outside = diary.mode.announces === "hidden" && looks.some(fromOutside);
  return outside ? "only looked at from outside" : "not looked at since restored";
}

// ---------------------------------------------------------------------------------------------------------------------
// The calendar. On one date: run in, teardown, redress, run out.

function walkTheCalendar(records: Records, lastDay: number): Diary[] {
  const { tool_items = [], modes = [], tools = [], redresses = [], joints = [], fitted_items = [] } = records;
  const { teardowns = [], findings = [] } = records;
  const counted = runsThatCount(records, lastDay);
  const toolOf = new Map(tools.map((tool) => [tool.serial, tool]));
  const diaries: Diary[] = [];
  const things: Thing[] = [];
  const built = new Set<string>();
  const ranBefore = new Set<string>();
  const looksSinceRun = new Map<string, Look[]>();
  // A redress dated inside a run contradicts it: the hours go to what was in the tool when it went out.
  const wentOut = new Map<Run, readonly Diary[]>();
  let stamp = 0;

  const inTool = (serial: string) => things.filter((thing) => thing.tool === serial);
  const modesOf = (item: Item) => {
    const own = modes.filter((mode) => mode.item === item.item);
    return [...own, ...modes.filter((mode) => mode.item === item.kind && !own.some((one) => one.mode === mode.mode))];
  };
  const open = (thing: Thing, mode: Mode, redress: Row<"redresses">, entry: number, refused: string | null) => {
    const diary: Diary = {
      serial: redress.serial,
      item: thing.item,
      mode,
      since: redress.redress,
      startStamp: stamp,
      entry,
      refused,
      testFailed: redress.pressure_test === "fail",
      replacedByNew: false,
      entries: [],
    };
    thing.diaries.set(mode.mode, diary);
    diaries.push(diary);
  };

  const aboard = (serial: string) => inTool(serial).flatMap((thing) => [...thing.diaries.values()]);
  const runIn = (run: Run, hours: Range) => {
    stamp++;
    ranBefore.add(run.serial);
    looksSinceRun.set(run.serial, []);
    const told: RunIn = { stamp, run, hours };
    for (const diary of wentOut.get(run) ?? aboard(run.serial)) diary.entries.push({ run: told });
  };

  const lookAt = (teardown: Row<"teardowns">) => {
    stamp++;
    const seen = inTool(teardown.serial);
    const look: Look = {
      stamp,
      teardown,
      findings: findings.filter((finding) => finding.teardown === teardown.teardown),
      diaries: new Map(
        seen.flatMap((thing) =>
          [...thing.diaries].map(([mode, diary]) => [`${thing.item.item}: ${mode}`, diary] as const),
        ),
      ),
    };
    looksSinceRun.set(teardown.serial, [...(looksSinceRun.get(teardown.serial) ?? []), look]);
    for (const thing of seen)
      if (looksAt(look, thing.item.item)) for (const diary of thing.diaries.values()) diary.entries.push({ look });
  };

  /** Carried over, and these records never saw it before: known hours are left truncation, unknown hours are excluded. */
  const enterInMidLife = (
    thing: Thing,
    mode: Mode,
    redress: Row<"redresses">,
    fitted: Row<"fitted_items">,
    { isFirst, replaces }: { readonly isFirst: boolean; readonly replaces: boolean },
  ) => {
    const { item } = thing.item;
    const enteredNew = isFirst && toolOf.get(redress.serial)?.hours_at_entry === 0 && fitted.item_serial == null;
    const age = fitted.age_at_fitting_h ?? (enteredNew && !ranBefore.has(redress.serial) ? 0 : null);
    if (age === null) {
      open(thing, mode, redress, 0, "age unknown when records begin");
      return;
    }
    const looks = (looksSinceRun.get(redress.serial) ?? []).filter((look) => looksAt(look, item));
    // A look at what was in this place before is no look at this one.
    const atThis = replaces ? [] : looks;
    const lastTelling = (some: readonly Look[]) =>
      some.findLast((look) => isCleanFor(look, thing.item, mode) || failureFound(look, thing.item, mode));
    const sound = (look: Look | undefined) => look !== undefined && isCleanFor(look, thing.item, mode);
    // A run that was out over the day of this redress contradicts it, and the looks before it say nothing for sure.
    const today = day(redress.done_on);
    const isOut = counted.some(
      ({ run }) => run.serial === redress.serial && day(run.out_on) < today && day(run.in_on ?? run.out_on) > today,
    );
    const known = mode.announces === "evident" || age === 0 || (sound(lastTelling(atThis)) && !isOut);
    open(thing, mode, redress, age, known ? null : "condition unknown when records begin");
  };

  const redressTool = (redress: Row<"redresses">) => {
    stamp++;
    const toolType = toolOf.get(redress.serial)?.tool_type;
    const isFirst = !built.has(redress.serial);
    built.add(redress.serial);
    for (const item of tool_items.filter((one) => one.tool_type === toolType)) {
      const fitted = fitted_items.find((row) => row.redress === redress.redress && row.item === item.item);
      const madeUp = joints.some((row) => row.redress === redress.redress && row.joint === item.item);
      const inPlace = things.find((thing) => thing.tool === redress.serial && thing.item.item === item.item);
      const wanted = fitted?.item_serial ?? null;
      let thing: Thing;
      const known =
        wanted === null ? undefined : things.findLast((one) => one.item.item === item.item && one.serial === wanted);
      // A serial written for the first time on the item that was in place all along names that item.
      const named = inPlace?.serial === null && known === undefined;
      if (fitted && !fitted.renewed && inPlace && (wanted === null || wanted === inPlace.serial || named)) {
        thing = inPlace;
        thing.serial ??= wanted;
      } else {
        if (inPlace) inPlace.tool = null;
        if (fitted && !fitted.renewed && known) {
          thing = known;
          thing.tool = redress.serial;
        } else {
          thing = { serial: wanted, tool: redress.serial, item, diaries: new Map() };
          things.push(thing);
          if (inPlace && fitted?.renewed) for (const diary of inPlace.diaries.values()) diary.replacedByNew = true;
          for (const mode of modesOf(item)) {
            if (mode.restored_by === "made up" && madeUp) open(thing, mode, redress, 0, null);
            else if (!fitted) open(thing, mode, redress, 0, "restoration not written down");
            // Renewed with hours written: a used item in the place of the old one, fitted as sound at that age.
            else if (fitted.renewed) open(thing, mode, redress, fitted.age_at_fitting_h ?? 0, null);
            else enterInMidLife(thing, mode, redress, fitted, { isFirst, replaces: inPlace !== undefined });
          }
          continue;
        }
      }
      if (madeUp)
        for (const mode of modesOf(item)) if (mode.restored_by === "made up") open(thing, mode, redress, 0, null);
    }
  };

  const cameIn = byDay(counted, ({ run }) => run.in_on ?? run.out_on);
  const goingOut = byDay(counted, ({ run }) => run.out_on);
  const tornDown = byDay(teardowns, (row) => row.done_on);
  const redressed = byDay(redresses, (row) => row.done_on);
  const days = [cameIn, goingOut, tornDown, redressed].flatMap((rows) => [...rows.keys()]);
  if (days.length === 0) return [];
  const lastNeeded = Math.min(lastDay, Math.max(...days));
  for (let today = Math.min(...days); today <= lastNeeded; today++) {
    const done = redressed.get(today) ?? [];
    // A run of one day on the day of a redress: the text puts the run out after the redress, so it comes in after it.
    const isAfterRedress = (run: Run) => run.out_on === run.in_on && done.some((row) => row.serial === run.serial);
    const back = cameIn.get(today) ?? [];
    for (const { run, hours } of back) if (!isAfterRedress(run)) runIn(run, hours);
    for (const teardown of (tornDown.get(today) ?? []).sort((a, b) => numbered(a.teardown, b.teardown)))
      lookAt(teardown);
    for (const redress of done.sort((a, b) => numbered(a.redress, b.redress))) redressTool(redress);
    for (const { run, hours } of back) if (isAfterRedress(run)) runIn(run, hours);
    for (const { run } of goingOut.get(today) ?? []) if (run.in_on !== run.out_on) wentOut.set(run, aboard(run.serial));
  }
  return diaries;
}

function byDay<T>(rows: readonly T[], date: (row: T) => string): Map<number, T[]> {
  const days = new Map<number, T[]>();
  for (const row of rows) days.set(day(date(row)), [...(days.get(day(date(row))) ?? []), row]);
  return days;
}

/** Every run that came in by the last day, once, in order of time, with its hours on the clock. */
function runsThatCount({ runs = [] }: Records, lastDay: number): { readonly run: Run; readonly hours: Range }[] {
  const kinds = runs.flatMap((run) => run.hours_kind ?? []).sort();
  const often = (kind: string) => kinds.filter((one) => one === kind).length;
  const clock = [...kinds].sort((a, b) => often(b) - often(a))[0] ?? null;
  const kept: Run[] = [];
  const clocked = (run: Run): Range => {
    const days = day(run.in_on ?? run.out_on) - day(run.out_on) + 1;
    const otherKind = clock !== null && run.hours_kind != null && run.hours_kind !== clock;
    return hoursMissing(run) || otherKind ? [0, 24 * days] : [run.hours ?? 0, run.hours ?? 0];
  };
  const inOrder = [...runs].sort(
    (a, b) =>
      day(a.in_on ?? a.out_on) - day(b.in_on ?? b.out_on) || day(a.out_on) - day(b.out_on) || numbered(a.run, b.run),
  );
  for (const run of inOrder) {
    if (run.in_on == null || day(run.in_on) > lastDay) continue;
    if (!kept.some((other) => sameRun(other, run))) kept.push(run);
  }
  return kept.map((run) => ({ run, hours: clocked(run) }));
}

/** Not written down, or 0 for a run that was out over two days or more. */
function hoursMissing(run: Run): boolean {
  return run.hours == null || (run.hours === 0 && day(run.in_on ?? run.out_on) - day(run.out_on) >= 2);
}

function sameRun(a: Run, b: Run): boolean {
  if (a.serial !== b.serial) return false;
  const sameDates = a.out_on === b.out_on && a.in_on === b.in_on;
  const overlap = day(a.out_on) < day(b.in_on ?? b.out_on) && day(b.out_on) < day(a.in_on ?? a.out_on);
  // Hours that nobody knows are no evidence that two rows are one run.
  const sameHours = !hoursMissing(a) && a.hours === b.hours;
  return a.run === b.run || (sameDates && sameHours) || (a.well != null && a.well === b.well && sameHours && overlap);
}

// ---------------------------------------------------------------------------------------------------------------------
// One look.

const looksAt = (look: Look, item: string): boolean =>
  (look.teardown.scope ?? []).includes(item) || look.findings.some((finding) => finding.item === item);

const counts = (finding: Finding, mode: Mode): boolean => (finding.severity ?? mode.threshold) >= mode.threshold;

const failureFound = (look: Look, item: Item, mode: Mode): Finding | undefined =>
  look.findings.find((one) => one.item === item.item && one.condition === mode.mode && counts(one, mode));

/** A look that can call the mode sound and does. */
function isCleanFor(look: Look, item: Item, mode: Mode): boolean {
  const written = look.findings.filter((one) => one.item === item.item);
  const { kind } = look.teardown;
  if (mode.announces === "hidden" && kind === "outside only") return false;
  if (mode.announces === "hidden" && kind === "pressure test" && written.length === 0) return false;
  return !isDestroyed(look, item) && failureFound(look, item, mode) === undefined;
}

const isDestroyed = (look: Look, item: Item): boolean =>
  look.findings.some((one) => one.item === item.item && ((one.severity ?? 0) >= 5 || one.disposition === "destroyed"));

// ---------------------------------------------------------------------------------------------------------------------
// One diary.

function readDiary(diary: Diary): Reading {
  const { item, mode } = diary;
  let sound: Moment = { stamp: diary.startStamp, into: nothing };
  /** The look before the last run: what a look found without a run since the last clean one goes back to. */
  let soundBefore: Moment = sound;
  let unshown: Moment = sound;
  const since = (at: Moment): Moment => {
    const [then, now] = [ageAt(diary, sound), ageAt(diary, at)];
    return then[0] >= now[0] && then[1] >= now[1] ? soundBefore : sound;
  };
  for (const entry of diary.entries) {
    if ("run" in entry) {
      const { stamp, run, hours } = entry.run;
      const start: Moment = { stamp, into: nothing };
      const end: Moment = { stamp, into: hours };
      if (run.item_seen === item.item && run.mode_seen === mode.mode) {
        const hour = run.hour_seen;
        // An hour beyond the run's own hours cannot be right: what is left is that it was in this run.
        if (hour != null && hour <= hours[1]) {
          const at: Moment = { stamp, into: [hour, hour] };
          return { end: "failed", exact: true, lower: at, upper: at };
        }
        return { end: "failed", exact: false, lower: start, upper: end };
      }
      // A lost run, and a tool failure that names no mode, do not say that this mode had not shown.
      const unnamed = run.mode_seen == null && (run.item_seen == null || run.item_seen === item.item);
      const masked = run.pulled_because === "lost in hole" || (run.pulled_because === "tool failure" && unnamed);
      if (!masked || run.mode_seen === "none") unshown = end;
    } else {
      const { look } = entry;
      const at: Moment = { stamp: look.stamp, into: nothing };
      const finding = failureFound(look, item, mode);
      if (finding) {
        if (finding.caused_by == null) return { end: "failed", exact: false, lower: since(at), upper: at };
        const cause = causeOf(finding, look);
        // "Leak, caused by extrusion" where extrusion leads to leak says the link again; the leak stays a failure.
        if (cause?.item === diary.item && cause.mode.leads_to === diary.mode.mode)
          return { end: "failed", exact: false, lower: since(at), upper: at };
        return { end: "struck", sound, at: look, cause };
      }
      if (isCleanFor(look, item, mode)) {
        if (ageAt(diary, at)[1] > ageAt(diary, sound)[1]) soundBefore = sound;
        sound = at;
        unshown = at;
      }
    }
  }
  return { end: "open", sound: mode.announces === "hidden" || isBefore(unshown, sound) ? sound : unshown };
}

/**
 * The diary of the finding of the same teardown that brought this one. Null where the teardown does not hold it: still a
 * consequence, since the shop says so, of a cause at an age that nobody knows.
 */
function causeOf(finding: Finding, look: Look): Diary | null {
  const others = look.findings.filter((one) => one !== finding);
  const cause =
    others.find((one) => finding.caused_by === `${one.item}: ${one.condition}`) ??
    others.find((one) => finding.caused_by === one.condition && finding.item === one.item) ??
    // The descriptor asks for `item: mode` where the item differs; a mode alone that only another item has is clear too.
    others.find((one) => finding.caused_by === one.condition);
  return (cause && look.diaries.get(`${cause.item}: ${cause.condition}`)) ?? null;
}

/** The age of a diary's item at a moment: all its runs before, and what of a run had passed. */
function ageAt(diary: Diary, moment: Moment): Range {
  let age: Range = [diary.entry, diary.entry];
  for (const entry of diary.entries) {
    if (!("run" in entry)) continue;
    if (entry.run.stamp < moment.stamp) age = add(age, entry.run.hours);
    if (entry.run.stamp === moment.stamp) age = add(age, moment.into);
  }
  return age;
}

type Told = Pick<SlowLife, "kind" | "lower" | "upper">;

function lifeOf(diary: Diary, reading: Reading, readings: ReadonlyMap<Diary, Reading>, all: readonly Diary[]): Told {
  if (reading.end === "open") return { kind: "right", lower: out(ageAt(diary, reading.sound)), upper: null };
  if (reading.end === "struck") {
    const [from, to] = struckBetween(reading, readings, all);
    return { kind: "right", lower: out([ageAt(diary, from)[0], ageAt(diary, to)[1]]), upper: null };
  }
  const lower = out(ageAt(diary, reading.lower));
  const upper = out(ageAt(diary, reading.upper));
  if (reading.exact) return { kind: "exact", lower, upper };
  return { kind: lower === 0 ? "left" : "interval", lower, upper };
}

/** Between which moments the cause of a consequence struck. */
function struckBetween(
  reading: Reading & { readonly end: "struck" },
  readings: ReadonlyMap<Diary, Reading>,
  all: readonly Diary[],
): readonly [Moment, Moment] {
  const here: Moment = { stamp: reading.at.stamp, into: nothing };
  const cause = reading.cause;
  const causes = cause ? boundedByItsFailure(cause, readings, all) : null;
  if (cause === null || causes === null || causes.end !== "failed") return [reading.sound, here];
  // Seen sound inside the cause's interval: it struck after that. Seen sound after the cause: the records contradict
  // themselves, and the text's "an age in the cause's interval" is followed.
  const inside = isBefore(causes.lower, reading.sound) && isBefore(reading.sound, causes.upper);
  return [inside ? reading.sound : causes.lower, causes.upper];
}

/** Where this mode leads to another: it was there by the time the other failed, unless it was looked for and absent. */
function boundedByItsFailure(
  diary: Diary,
  readings: ReadonlyMap<Diary, Reading>,
  all: readonly Diary[],
  seen: readonly Diary[] = [],
): Reading {
  let reading = readings.get(diary);
  if (!reading) throw new Error("a diary was not read");
  const { leads_to } = diary.mode;
  if (leads_to == null || seen.includes(diary)) return reading;
  const last = diary.entries.at(-1);
  const until = last ? ("run" in last ? last.run.stamp : last.look.stamp) : diary.startStamp;
  for (const other of all) {
    if (other.item !== diary.item || other.mode.mode !== leads_to || !sameThing(other, diary)) continue;
    const failure = boundedByItsFailure(other, readings, all, [...seen, diary]);
    if (failure.end !== "failed" || ageAt(other, failure.upper)[1] <= other.entry) continue;
    if (failure.upper.stamp > until || failure.upper.stamp <= diary.startStamp) continue;
    const by = ageAt(diary, failure.upper);
    if (reading.end === "failed") {
      if (isBefore(reading.lower, failure.upper) && isBefore(failure.upper, reading.upper)) {
        reading = { ...reading, upper: failure.upper };
      }
    }
    const ranSince = reading.end === "open" && ageAt(diary, reading.sound)[1] < by[1];
    if (reading.end === "open" && ranSince && isBefore(reading.sound, failure.upper)) {
      reading = { end: "failed", exact: false, lower: reading.sound, upper: failure.upper };
    }
  }
  return reading;
}

/** Both diaries saw the same event of the calendar, so both are of one physical thing. */
function sameThing(a: Diary, b: Diary): boolean {
  const stamps = new Set(a.entries.map((entry) => ("run" in entry ? entry.run : entry.look)));
  return b.entries.some((entry) => stamps.has("run" in entry ? entry.run : entry.look));
}
