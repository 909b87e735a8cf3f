import type { RowRef } from "../records/descriptor.ts";
import { plus, type Span, span, toAge } from "./age.ts";
import type { Episode } from "./episodes.ts";
import type { Outcome } from "./episodeWalk.ts";
import type { Life } from "./types.ts";

/** What every row about an episode says, wherever it lands. */
export function describeEpisode({ stints, item, mode, runs, looks }: Episode) {
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

/** The life that an episode and its outcome amount to. */
export function lifeOf(episode: Episode, outcome: Outcome): Life {
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
