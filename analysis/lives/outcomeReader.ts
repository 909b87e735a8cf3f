import { type Span, span } from "./age.ts";
import { ageOnDay, type Episode, type EpisodeIndex, type EpisodeLook } from "./episodes.ts";
import { EpisodeWalk, type Outcome } from "./episodeWalk.ts";
import type { Looks } from "./looks.ts";
import type { LivesNotice } from "./types.ts";

/** Reads episodes; remembers each outcome, since a consequence needs the outcome of its cause. */
export class OutcomeReader {
  private readonly known = new Map<Episode, Outcome>();
  private readonly reading = new Set<Episode>();

  constructor(
    private readonly index: EpisodeIndex,
    private readonly looks: Looks,
  ) {}

  read(episode: Episode): Outcome {
    const known = this.known.get(episode);
    if (known) return known;
    this.reading.add(episode);
    const outcome = this.withConsequenceLinked(episode, this.walk(episode));
    this.reading.delete(episode);
    this.known.set(episode, outcome);
    return outcome;
  }

  /** Runs and looks in order of time; on one date the run comes in before the look. */
  private walk(episode: Episode): Outcome {
    const walk = new EpisodeWalk(episode, (at, causedBy, clean, notices) =>
      this.whenStruck(episode, at, causedBy, clean, notices),
    );
    const steps = [
      ...episode.runs.map((run) => ({ day: run.run.inDay, order: 0, take: () => walk.takeRun(run) })),
      ...episode.looks.map((look) => ({ day: look.look.day, order: 1, take: () => walk.takeLook(look) })),
    ].sort((a, b) => a.day - b.day || a.order - b.order);
    for (const { take } of steps) take();
    return walk.outcome();
  }

  /**
   * Age, on this mode's clock, at which another mode struck and ended this life unseen: from the last age known sound
   * to the end of the cause's interval. Clocks differ (made up, renewed); the time back from the look is the same.
   */
  private whenStruck(
    episode: Episode,
    at: EpisodeLook,
    causedBy: string,
    clean: Span,
    notices: LivesNotice[],
  ): Span | null {
    const { look, age } = at;
    const serial = look.teardown.serial;
    const named = /^(.*?):\s*(.*)$/.exec(causedBy);
    const all = this.looks.findingsOf.get(look.teardown.teardown) ?? [];
    const own = all.find(({ item, condition }) => item === episode.item && condition === causedBy);
    const source = named
      ? all.find(({ item, condition }) => item === named[1] && condition === named[2])
      : (own ?? all.find(({ condition }) => condition === causedBy));
    const cause = source ? this.index.at(serial, source.item, source.condition, look.day) : undefined;
    if (!cause || cause === episode || this.reading.has(cause)) {
      notices.push({
        code: "cause-not-found",
        facts: {
          teardown: look.teardown.teardown,
          serial,
          item: episode.item,
          mode: episode.mode.mode,
          caused_by: causedBy,
        },
        rows: look.rows,
      });
      return span(clean.low, age.high);
    }
    const outcome = this.read(cause);
    const causeAge = ageOnDay(cause, look.day);
    const from = outcome.upper ? Math.max(clean.low, age.low - (causeAge.low - outcome.lower.low)) : clean.low;
    const to = outcome.upper ? age.high - (causeAge.high - outcome.upper.high) : age.high;
    return span(Math.min(from, to), Math.max(from, to));
  }

  /** Where this mode leads to another, it was there by the other's failure: that age is its upper end. */
  private withConsequenceLinked(episode: Episode, outcome: Outcome): Outcome {
    const { leadsTo } = episode.mode;
    if (leadsTo === null || outcome.kind !== "failed between" || !outcome.upper || !outcome.shownAt) return outcome;
    const { stint, day } = outcome.shownAt;
    const led = this.index.during(stint, leadsTo);
    if (!led || this.reading.has(led)) return outcome;
    const other = this.read(led);
    if (other.closedBy !== "failure" || !other.upper) return outcome;
    const back = ageOnDay(led, day);
    const here = ageOnDay(episode, day);
    const upper = span(here.low - (back.low - other.upper.low), here.high - (back.high - other.upper.high));
    return upper.high < outcome.upper.high && upper.low > outcome.lower.low + DUST ? { ...outcome, upper } : outcome;
  }
}

/** Ages closer than this are the same age: hours are sums of decimal cells. */
const DUST = 1e-6;
