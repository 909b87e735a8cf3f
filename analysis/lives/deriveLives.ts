import { keyOf, type Records, type Row, type RowRef } from "../records/descriptor.ts";
import { lowOf, plus, type Span, span, toAge } from "./age.ts";
import { dateOf, dayOf } from "./calendar.ts";
import { type ClockRuns, clockRuns, compare, push } from "./clockRuns.ts";
import { type Episode, EpisodeIndex, episodesOf, modesOfItem } from "./episodes.ts";
import { itemLooks, type Looks } from "./looks.ts";
import { type Outcome, OutcomeReader } from "./outcome.ts";
import { followItems, type Track, type Tracks } from "./tracks.ts";
import type {
  AlreadyFailed,
  DerivedLives,
  Excluded,
  Life,
  LivesDefinition,
  LivesNotice,
  NoInformation,
  ToolEvent,
} from "./types.ts";

/** A tool that has been out this long without a run report is said to be silent. Common practice, no source. */
const SILENT_DAYS = 30;

/**
 * Derives the lives of a shop's records: for each item, mode and restoration of that mode exactly one row in `lives`,
 * `noInformationYet` or `excluded`. Order of rows never matters.
 *
 * @param records     Canonical rows, dates `YYYY-MM-DD`, hours in hours.
 * @param definition  Cut-off (null: the latest date of a run, look or redress), thresholds, how mid-life entry is read.
 * @returns           Ages on the operating-hours clock since the restoration. `[low, high]` where hours are not written.
 *
 * Conventions  On one date: run in, teardown, redress, run out. A hidden mode is known up to the last clean look, an
 *              evident one up to the last run that came in without it. After a failure and before a restoration the
 *              mode adds nothing. Nothing after the cut-off is used.
 * Errors       "bad-date" for a text that is no date.
 */
export function deriveLives(records: Records, definition: LivesDefinition): DerivedLives {
  const cutoff = definition.cutoff ?? latestDate(records);
  const cutoffDay = dayOf(cutoff);
  const clock = clockRuns(records, definition, cutoffDay);
  const looks = itemLooks(records, cutoffDay);
  const followed = followItems(records, cutoffDay);
  const index = new EpisodeIndex();
  const episodes: Episode[] = [];
  const itemsOf = new Map((records.tool_items ?? []).map((row) => [`${row.tool_type}\u0000${row.item}`, row]));
  const modesOf = new Map(
    [...itemsOf].map(([key, item]) => [key, modesOfItem(item, records.modes ?? [], definition.thresholds)]),
  );

  for (const track of followed.tracks) {
    const first = track.stints[0]!;
    for (const mode of modesOf.get(`${first.toolType}\u0000${first.item}`) ?? []) {
      for (const episode of episodesOf(track, mode, clock, looks)) {
        episodes.push(episode);
        index.add(episode);
      }
    }
  }

  const reader = new OutcomeReader(index, looks);
  const lives: Life[] = [];
  const noInformationYet: NoInformation[] = [];
  const excluded: Excluded[] = [];
  const alreadyFailed: AlreadyFailed[] = [];
  const notices: LivesNotice[] = [
    ...clock.notices,
    ...looks.notices,
    ...followed.notices,
    ...unlistedNames(records, itemsOf, modesOf),
  ];

  for (const episode of episodes) {
    const why = reasonToExclude(episode, looks, clock, definition);
    const outcome = reader.read(episode);
    if (why) {
      excluded.push({ ...describe(episode), reason: why });
      continue;
    }
    // Found failed before it ran an hour: counted apart, never a life of age 0.
    if (outcome.upper !== null && outcome.upper.high <= 0) {
      excluded.push({ ...describe(episode), reason: "build reject" });
      continue;
    }
    notices.push(...outcome.notices);
    for (const { look } of outcome.alreadyFailed) {
      alreadyFailed.push({
        serial: look.teardown.serial,
        item: episode.item,
        mode: episode.mode.mode,
        teardown: look.teardown.teardown,
      });
    }
    if (tellsNothing(episode, outcome)) {
      const reason =
        episode.runs.length === 0
          ? "never ran"
          : outcome.sawFromOutsideOnly
            ? "only looked at from outside"
            : "not looked at since restored";
      noInformationYet.push({ ...describe(episode), reason });
    } else lives.push(lifeOf(episode, outcome));
  }

  const tool = toolEvents(records, clock, cutoffDay);
  refuseRunsWithoutBuild(records, clock, followed, notices);
  return {
    cutoff,
    lives: lives.sort((a, b) => compare(a.id, b.id)),
    noInformationYet: noInformationYet.sort(byPlace),
    excluded: excluded.sort(byPlace),
    toolEvents: tool.events,
    alreadyFailed: alreadyFailed.sort(
      (a, b) => compare(a.teardown, b.teardown) || compare(a.item, b.item) || compare(a.mode, b.mode),
    ),
    buildRejects: (records.redresses ?? [])
      .filter(({ pressure_test, done_on }) => pressure_test === "fail" && dayOf(done_on) <= cutoffDay)
      .map(({ redress }) => redress)
      .sort(compare),
    hours: clock.account.account(),
    notices: [...notices, ...tool.notices, ...silentTools(records, clock)].sort(byNotice),
  };
}

/** The latest date in runs, looks and redresses; status dates are no evidence. Errors "bad-date" for records without any. */
export function latestDate(records: Records): string {
  let latest = "";
  const take = (date: string | null | undefined) => {
    if (date != null && date > latest) latest = date;
  };
  for (const run of records.runs ?? []) take(run.in_on ?? run.out_on);
  for (const teardown of records.teardowns ?? []) take(teardown.done_on);
  for (const redress of records.redresses ?? []) take(redress.done_on);
  return dateOf(dayOf(latest));
}

function describe({ stints, item, mode, runs, looks }: Episode) {
  const first = stints[0]!;
  const hours = runs.reduce<Span>((sum, { run }) => plus(sum, run.hours), span(0));
  return {
    toolType: first.toolType,
    sizeIn: first.sizeIn,
    serial: first.serial,
    item,
    mode: mode.mode,
    since: first.redress.redress,
    sinceOn: first.redress.done_on,
    hours: toAge(hours),
    rows: rowsOf(stints, runs, looks),
  };
}

function rowsOf(stints: Episode["stints"], runs: Episode["runs"], looks: Episode["looks"]): RowRef[] {
  return [
    ...stints.flatMap(({ rows }) => rows),
    ...runs.map(({ run }) => run.row),
    ...looks.flatMap(({ look }) => look.rows),
  ];
}

function lifeOf(episode: Episode, outcome: Outcome): Life {
  const first = episode.stints[0]!;
  const { kind: how, lower, upper } = outcome;
  const kind = how === "failed between" ? (lower.high === 0 ? "left" : "interval") : how;
  const ranged = lower.low !== lower.high || (upper !== null && upper.low !== upper.high);
  return {
    id: `${first.serial} / ${episode.item} / ${episode.mode.mode} / ${first.redress.redress}`,
    toolType: first.toolType,
    sizeIn: first.sizeIn,
    serial: first.serial,
    item: episode.item,
    itemSerial: first.fitted?.item_serial ?? null,
    mode: episode.mode.mode,
    since: first.redress.redress,
    sinceOn: first.redress.done_on,
    kind,
    lower: toAge(lower),
    upper: upper === null ? null : toAge(upper),
    entry: episode.entry ?? 0,
    rangeBecause: !ranged ? null : outcome.closedBy === "another mode" ? "ended by another mode" : "hours missing",
    closedBy: outcome.closedBy,
    endedOn: outcome.endedOn ?? first.redress.done_on,
    informative: outcome.informative,
    looks: outcome.marks.map(({ at, found, informative }) => ({
      row: at.look.rows[0]!,
      on: at.look.teardown.done_on,
      age: toAge(at.age),
      found,
      informative,
    })),
    runs: episode.runs.map(({ run, from, to }) => ({
      row: run.row,
      outOn: run.run.out_on,
      inOn: run.run.in_on ?? null,
      from: toAge(from),
      to: toAge(to),
    })),
    rows: rowsOf(episode.stints, episode.runs, episode.looks),
  };
}

/** A right-censored life that is known no further than its entry tells nothing. */
function tellsNothing(episode: Episode, { kind, lower }: Outcome): boolean {
  return kind === "right" && lower.high <= (episode.entry ?? 0);
}

function reasonToExclude(
  episode: Episode,
  looks: Looks,
  clock: ClockRuns,
  definition: LivesDefinition,
): Excluded["reason"] | null {
  const { track, stints, runs, mode, lastOfTrack, restored } = episode;
  const first = stints[0]!;
  const ranUntilReplaced = runs.length > 0;
  if (!ranUntilReplaced && first.redress.pressure_test === "fail" && lastOfTrack && track.replacedByNew)
    return "build reject";
  if (restored) return null;
  if (track.start === "not written down") return "restoration not written down";
  if (episode.entry === null) return "age unknown when records begin";
  if (episode.entry === 0 || mode.announces === "evident" || definition.refittedMeansSound) return null;
  return seenSoundAtEntry(episode, looks, clock) ? null : "condition unknown when records begin";
}

/** A clean look at the item on or before the redress that brought it in, with no run of that tool between. */
function seenSoundAtEntry({ stints, item, mode }: Episode, looks: Looks, clock: ClockRuns): boolean {
  const first = stints[0]!;
  const look = looks.at(first.serial, item).findLast(({ day }) => day <= first.fromDay);
  if (!look?.seesHidden || look.destroyed) return false;
  const ranBetween = (clock.bySerial.get(first.serial) ?? []).some(
    ({ outDay, inDay }) => inDay > look.day && outDay < first.fromDay,
  );
  const found = look.findings.find(({ condition }) => condition === mode.mode);
  return !ranBetween && !(found && (found.severity ?? mode.threshold) >= mode.threshold);
}

function toolEvents(
  records: Records,
  clock: ClockRuns,
  cutoffDay: number,
): { events: ToolEvent[]; notices: LivesNotice[] } {
  const events: ToolEvent[] = [];
  const notices: LivesNotice[] = [];
  const toolOf = new Map((records.tools ?? []).map((tool) => [tool.serial, tool]));
  for (const [serial, runs] of clock.bySerial) {
    let age = span(toolOf.get(serial)?.hours_at_entry ?? 0);
    for (const { run, row, hours } of [...runs].sort((a, b) => a.inDay - b.inDay || a.outDay - b.outDay)) {
      age = plus(age, hours);
      const on = run.in_on ?? run.out_on;
      if (run.pulled_because === "lost in hole") {
        events.push({ serial, event: "lost in hole", on, age: toAge(age), run: run.run });
        notices.push({
          code: "lost-cause-unknown",
          facts: { serial, run: run.run, hours: lowOf(toAge(age)) },
          rows: [row],
        });
      } else if (run.pulled_because === "tool failure" && run.item_seen == null) {
        events.push({ serial, event: "tool failure, cause masked", on, age: toAge(age), run: run.run });
        notices.push({ code: "tool-failure-no-item", facts: { serial, run: run.run }, rows: [row] });
      }
    }
    const tool = toolOf.get(serial);
    const stillOut = clock.stillOut.get(serial)?.at(-1);
    if (tool?.status === "lost in hole" && stillOut && dayOf(tool.status_on ?? stillOut.out_on) <= cutoffDay) {
      events.push({
        serial,
        event: "lost in hole",
        on: tool.status_on ?? stillOut.out_on,
        age: toAge(age),
        run: stillOut.run,
      });
    }
  }
  return { events: events.sort((a, b) => compare(a.on, b.on) || compare(a.serial, b.serial)), notices };
}

function silentTools(records: Records, clock: ClockRuns): LivesNotice[] {
  return (records.tools ?? []).flatMap((tool): LivesNotice[] => {
    if (tool.status !== "out" || tool.status_on == null || clock.stillOut.has(tool.serial)) return [];
    const last = clock.bySerial.get(tool.serial)?.at(-1);
    const since = last?.run.in_on;
    if (!last || since == null || dayOf(tool.status_on) - dayOf(since) <= SILENT_DAYS) return [];
    return [
      {
        code: "out-but-silent",
        facts: { serial: tool.serial, since, status_on: tool.status_on },
        rows: [{ table: "tools", key: keyOf("tools", tool) }, last.row],
      },
    ];
  });
}

function refuseRunsWithoutBuild(
  records: Records,
  clock: ClockRuns,
  { tracks, redressesBySerial }: Tracks,
  notices: LivesNotice[],
): void {
  const listed = new Set((records.tools ?? []).map(({ serial }) => serial));
  const used = new Map<string, { from: number; to: number }[]>();
  for (const { serial, fromDay, toDay } of tracks.flatMap(({ stints }: Track) => stints)) {
    push(used, serial, { from: fromDay, to: toDay });
  }
  for (const [serial, runs] of clock.bySerial) {
    for (const { run, row, outDay, hours } of runs) {
      if (!listed.has(serial)) {
        clock.account.refuse("run of a tool not in the list", hours);
        if (!redressesBySerial.has(serial)) notices.push({ code: "tool-not-listed", facts: { serial }, rows: [row] });
      } else if (!(used.get(serial) ?? []).some(({ from, to }) => outDay >= from && outDay < to)) {
        clock.account.refuse("run without build", hours);
        notices.push({ code: "run-without-build", facts: { run: run.run, serial, out_on: run.out_on }, rows: [row] });
      }
    }
  }
}

/** Findings that name an item or a mode which the item list does not have: kept, told, and used by no life. */
function unlistedNames(
  records: Records,
  itemsOf: ReadonlyMap<string, Row<"tool_items">>,
  modesOf: ReadonlyMap<string, readonly { readonly mode: string }[]>,
): LivesNotice[] {
  const typeOf = new Map((records.tools ?? []).map(({ serial, tool_type }) => [serial, tool_type]));
  const serialOf = new Map((records.teardowns ?? []).map(({ teardown, serial }) => [teardown, serial]));
  const grouped = new Map<
    string,
    { code: "item-not-listed" | "mode-not-listed"; facts: Record<string, string | number>; rows: RowRef[] }
  >();
  for (const finding of records.findings ?? []) {
    const type = typeOf.get(serialOf.get(finding.teardown) ?? "");
    if (type === undefined) continue;
    const key = `${type}\u0000${finding.item}`;
    const code = !itemsOf.has(key) ? "item-not-listed" : "mode-not-listed";
    if (
      code === "mode-not-listed" &&
      (finding.condition === "sound" || modesOf.get(key)?.some(({ mode }) => mode === finding.condition))
    )
      continue;
    const name = code === "item-not-listed" ? key : `${key}\u0000${finding.condition}`;
    const entry = grouped.get(name) ?? {
      code,
      facts: { tool_type: type, item: finding.item, mode: finding.condition, count: 0 },
      rows: [],
    };
    entry.facts.count = Number(entry.facts.count) + 1;
    entry.rows.push({ table: "findings", key: keyOf("findings", finding) });
    grouped.set(name, entry);
  }
  return [...grouped.values()];
}

const byPlace = (a: NoInformation | Excluded, b: NoInformation | Excluded): number =>
  compare(a.serial, b.serial) || compare(a.item, b.item) || compare(a.mode, b.mode) || compare(a.since, b.since);

const byNotice = (a: LivesNotice, b: LivesNotice): number =>
  compare(a.code, b.code) || compare(JSON.stringify(a.facts), JSON.stringify(b.facts));
