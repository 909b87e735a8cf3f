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
    // "Leak, caused by extrusion" where extrusion leads to leak tells the link again: the leak is a failure of its own.
    if (cause?.item === episode.item && cause.mode.leadsTo === episode.mode.mode) return null;
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

  /**
   * Where this mode leads to another, it was there by the other's failure: that age is its upper end, whether a look
   * found this mode later or nobody has looked since. Looked for after that failure and absent, it stays as it was.
   */
  private withConsequenceLinked(episode: Episode, outcome: Outcome): Outcome {
    const { leadsTo } = episode.mode;
    const open = outcome.kind === "right" && outcome.closedBy !== "another mode";
    if (leadsTo === null || !(open || outcome.kind === "failed between")) return outcome;
    let bounded = outcome;
    for (const led of new Set(episode.stints.map((stint) => this.index.during(stint, leadsTo)))) {
      if (!led || this.reading.has(led)) continue;
      const other = this.read(led);
      if (other.closedBy !== "failure" || !other.upper || !other.shownAt || !other.endedOn) continue;
      if (!episode.stints.some(({ redress }) => redress === other.shownAt?.stint.redress)) continue;
      const back = ageOnDay(led, other.shownAt.day);
      const here = ageOnDay(episode, other.shownAt.day);
      const upper = span(here.low - (back.low - other.upper.low), here.high - (back.high - other.upper.high));
      if (upper.high <= bounded.lower.high + DUST || upper.high <= (episode.entry ?? 0)) continue;
      if (bounded.kind === "right") {
        bounded = {
          ...bounded,
          kind: "failed between",
          upper,
          closedBy: "failure",
          endedOn: other.endedOn,
          shownAt: other.shownAt,
        };
      } else if (bounded.upper && upper.high < bounded.upper.high) bounded = { ...bounded, upper };
    }
    return bounded;
  }
}

/** Ages closer than this are the same age: hours are sums of decimal cells. */
const DUST = 1e-6;
