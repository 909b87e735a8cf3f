import type { Row } from "../records/descriptor.ts";
import { plus, type Span, span } from "./age.ts";
import type { ClockRun, ClockRuns } from "./clockRuns.ts";
import { compareNumbered, push } from "./clockRuns.ts";
import type { ItemLook, Looks } from "./looks.ts";
import type { Stint, Track } from "./tracks.ts";

/** A mode as it applies to an item, the study's threshold taken in. */
export interface ItemMode {
  readonly mode: string;
  readonly announces: "evident" | "hidden";
  readonly threshold: number;
  readonly restoredBy: "renewed" | "made up";
  readonly leadsTo: string | null;
}

export interface EpisodeRun {
  readonly run: ClockRun;
  readonly from: Span;
  readonly to: Span;
  readonly stint: number;
}

export interface EpisodeLook {
  readonly look: ItemLook;
  readonly age: Span;
  readonly stint: number;
}

/** From one restoration of one mode of one item to the next: what exactly one row of the result is made of. */
export interface Episode {
  readonly track: Track;
  readonly item: string;
  readonly mode: ItemMode;
  readonly stints: readonly Stint[];
  /** The restoration is on record, so age starts at 0 (or at the age of the used item fitted). */
  readonly restored: boolean;
  readonly lastOfTrack: boolean;
  /** Age at the start; null where nobody knows it. */
  readonly entry: number | null;
  readonly runs: readonly EpisodeRun[];
  readonly looks: readonly EpisodeLook[];
}

/** Cuts a track into episodes of a mode and lays runs and looks on the mode's own clock. */
export function episodesOf(track: Track, mode: ItemMode, clock: ClockRuns, looks: Looks): Episode[] {
  const starts = track.stints.flatMap(({ madeUp }, index) =>
    index === 0 || (mode.restoredBy === "made up" && madeUp) ? [index] : [],
  );
  return starts.map((start, index) => {
    const end = starts[index + 1] ?? track.stints.length;
    const stints = track.stints.slice(start, end);
    const first = stints[0]!;
    const restored =
      (start === 0 && track.start === "renewed") || (mode.restoredBy === "made up" && first.madeUp !== null);
    const madeUp = mode.restoredBy === "made up" && first.madeUp !== null;
    const entry = start > 0 || madeUp ? 0 : track.ageAtStart;
    const runs = layRuns(stints, clock, entry ?? 0);
    return {
      track,
      item: first.item,
      mode,
      stints,
      restored,
      lastOfTrack: end === track.stints.length,
      entry,
      runs,
      looks: layLooks(stints, runs, looks, entry ?? 0),
    };
  });
}

/** Age once the runs that came in on or before `day` are counted. */
export function ageOnDay(episode: Pick<Episode, "runs" | "entry">, day: number): Span {
  let age = span(episode.entry ?? 0);
  for (const { run, to } of episode.runs) if (run.inDay <= day) age = to;
  return age;
}

function layRuns(stints: readonly Stint[], clock: ClockRuns, entry: number): EpisodeRun[] {
  const found: { run: ClockRun; stint: number }[] = [];
  stints.forEach((stint, index) => {
    for (const run of clock.bySerial.get(stint.serial) ?? []) {
      if (run.outDay >= stint.fromDay && run.outDay < stint.toDay) found.push({ run, stint: index });
    }
  });
  found.sort(
    (a, b) => a.run.inDay - b.run.inDay || a.run.outDay - b.run.outDay || compareNumbered(a.run.run.run, b.run.run.run),
  );
  let age = span(entry);
  return found.map(({ run, stint }) => {
    const from = age;
    age = plus(age, run.hours);
    return { run, from, to: age, stint };
  });
}

function layLooks(stints: readonly Stint[], runs: readonly EpisodeRun[], looks: Looks, entry: number): EpisodeLook[] {
  return stints.flatMap((stint, index) =>
    looks
      .at(stint.serial, stint.item)
      .filter(({ day }) => day > stint.fromDay && day <= stint.toDay)
      .map((look) => ({ look, age: ageOnDay({ runs, entry }, look.day), stint: index })),
  );
}

/** Episodes of each place and mode, for finding the one that a finding belongs to. */
export class EpisodeIndex {
  private readonly byPlace = new Map<string, Episode[]>();

  add(episode: Episode): void {
    for (const serial of new Set(episode.stints.map((stint) => stint.serial))) {
      push(this.byPlace, `${serial}\u0000${episode.item}\u0000${episode.mode.mode}`, episode);
    }
  }

  /** The episode of another mode of the same item during a stint. */
  during({ serial, item, redress }: Stint, mode: string): Episode | undefined {
    return this.byPlace
      .get(`${serial}\u0000${item}\u0000${mode}`)
      ?.find(({ stints }) => stints.some((stint) => stint.redress.redress === redress.redress));
  }

  /** The episode that a teardown of that day looks into: teardown comes before redress on one date. */
  at(serial: string, item: string, mode: string, day: number): Episode | undefined {
    return this.byPlace
      .get(`${serial}\u0000${item}\u0000${mode}`)
      ?.find(({ stints }) =>
        stints.some((stint) => stint.serial === serial && day > stint.fromDay && day <= stint.toDay),
      );
  }
}

/** The modes of an item: rows that name the item, and rows that name its kind unless the item has its own of that mode. */
export function modesOfItem(
  item: Row<"tool_items">,
  modes: readonly Row<"modes">[],
  thresholds: Readonly<Record<string, number>> = {},
): ItemMode[] {
  const own = modes.filter((row) => row.item === item.item);
  const names = new Set(own.map(({ mode }) => mode));
  const ofKind = modes.filter((row) => row.item === item.kind && row.item !== item.item && !names.has(row.mode));
  return [...own, ...ofKind].map((row) => ({
    mode: row.mode,
    announces: row.announces,
    threshold: thresholds[`${item.item}: ${row.mode}`] ?? thresholds[row.mode] ?? row.threshold,
    restoredBy: row.restored_by,
    leadsTo: row.leads_to ?? null,
  }));
}
