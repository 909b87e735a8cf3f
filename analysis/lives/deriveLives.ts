import { AnalysisError } from "../errors.ts";
import type { Records } from "../records/descriptor.ts";
import { dateOf, dayOf } from "./calendar.ts";
import { type ClockRuns, clockRuns, compare } from "./clockRuns.ts";
import { type Episode, EpisodeIndex, episodesOf, modesOfItem } from "./episodes.ts";
import type { Outcome } from "./episodeWalk.ts";
import { describeEpisode, lifeOf } from "./lifeRows.ts";
import { type ItemLook, itemLooks, type Looks } from "./looks.ts";
import { OutcomeReader } from "./outcomeReader.ts";
import { silentTools, toolEvents } from "./toolEvents.ts";
import { followItems } from "./tracks.ts";
import type {
  AlreadyFailed,
  DerivedLives,
  Excluded,
  Life,
  LivesDefinition,
  LivesNotice,
  NoInformation,
} from "./types.ts";
import { looksWithoutBuild, refuseRunsWithoutBuild, unlistedNames } from "./unusedRecords.ts";

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
 * Errors       "bad-date" for a text that is no date; "no-lives" where no run, look or redress has a date at all.
 */
export function deriveLives(records: Records, definition: LivesDefinition): DerivedLives {
  const cutoff = definition.cutoff ?? latestDate(records);
  const cutoffDay = dayOf(cutoff);
  const clock = clockRuns(records, definition, cutoffDay);
  const looks = itemLooks(records, cutoffDay);
  const followed = followItems(records, clock, cutoffDay);
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
    ...looksWithoutBuild(looks.bySerial, followed.redressesBySerial),
    ...unlistedNames(records, itemsOf, modesOf),
  ];

  for (const episode of episodes) {
    const why = reasonToExclude(episode, looks, clock, definition);
    const outcome = reader.read(episode);
    if (why) {
      excluded.push({ ...describeEpisode(episode), reason: why });
      continue;
    }
    // A look found it failed before it ran an hour: counted apart, never a life of no hours.
    if (outcome.kind === "failed between" && outcome.upper !== null && outcome.upper.high <= (episode.entry ?? 0)) {
      excluded.push({ ...describeEpisode(episode), reason: "build reject" });
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
      noInformationYet.push({ ...describeEpisode(episode), reason });
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

/** The latest date in runs, looks and redresses; status dates are no evidence. Errors "no-lives" for records without any. */
export function latestDate(records: Records): string {
  let latest = "";
  const take = (date: string | null | undefined) => {
    if (date != null && date > latest) latest = date;
  };
  for (const run of records.runs ?? []) take(run.in_on ?? run.out_on);
  for (const teardown of records.teardowns ?? []) take(teardown.done_on);
  for (const redress of records.redresses ?? []) take(redress.done_on);
  if (latest === "") throw new AnalysisError("no-lives", { dates: 0 });
  return dateOf(dayOf(latest));
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

/** A clean look at this item on or before the redress that brought it in, with no run of that tool between. */
function seenSoundAtEntry({ track, stints, item, mode }: Episode, looks: Looks, clock: ClockRuns): boolean {
  const first = stints[0]!;
  if (track.tookPlaceOf) return false;
  const foundFailed = (look: ItemLook) =>
    look.findings.some(
      ({ condition, severity }) => condition === mode.mode && (severity ?? mode.threshold) >= mode.threshold,
    );
  // A look that cannot see the mode neither shows it nor undoes what an earlier one saw.
  const look = looks
    .at(first.serial, item)
    .findLast((one) => one.day <= first.fromDay && (one.seesHidden || one.destroyed || foundFailed(one)));
  if (!look?.seesHidden || look.destroyed || foundFailed(look)) return false;
  return !(clock.bySerial.get(first.serial) ?? []).some(
    ({ outDay, inDay }) => inDay > look.day && outDay < first.fromDay,
  );
}

const byPlace = (a: NoInformation | Excluded, b: NoInformation | Excluded): number =>
  compare(a.serial, b.serial) || compare(a.item, b.item) || compare(a.mode, b.mode) || compare(a.since, b.since);

const byNotice = (a: LivesNotice, b: LivesNotice): number =>
  compare(a.code, b.code) || compare(JSON.stringify(a.facts), JSON.stringify(b.facts));
