import { type Span, span } from "./age.ts";
import { ageOnDay, type Episode, type EpisodeIndex, type EpisodeLook } from "./episodes.ts";
import type { Looks } from "./looks.ts";
import type { Stint } from "./tracks.ts";
import type { LivesNotice, LookMark } from "./types.ts";

/** What the records say of one episode, still in spans. */
export interface Outcome {
  readonly kind: "exact" | "right" | "failed between";
  readonly lower: Span;
  readonly upper: Span | null;
  readonly closedBy: "failure" | "look" | "last run" | "loss" | "another mode";
  readonly endedOn: string | null;
  /** Where the failure showed: the stint, and the day by which its runs count. */
  readonly shownAt: { readonly stint: Stint; readonly day: number } | null;
  readonly informative: boolean;
  readonly marks: readonly {
    readonly at: EpisodeLook;
    readonly found: LookMark["found"];
    readonly informative: boolean;
  }[];
  readonly alreadyFailed: readonly EpisodeLook[];
  readonly sawFromOutsideOnly: boolean;
  readonly notices: readonly LivesNotice[];
}

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
    const { mode, item } = episode;
    const entry = span(episode.entry ?? 0);
    const notices: LivesNotice[] = [];
    const marks: { at: EpisodeLook; found: LookMark["found"]; informative: boolean }[] = [];
    const alreadyFailed: EpisodeLook[] = [];
    let clean = entry;
    let silent = entry;
    let knownOn: string | null = null;
    let lastWasLook = false;
    let lost = false;
    let sawFromOutsideOnly = false;
    let failure: {
      kind: "exact" | "failed between";
      lower: Span;
      upper: Span;
      on: string;
      day: number;
      stint: number;
      byLook: boolean;
    } | null = null;
    let consequence: { lower: Span; on: string; informative: boolean } | null = null;
    let failureInformative = false;
    let lastInformative = false;
    let failedRunNamedItem = false;

    const steps = [
      ...episode.runs.map((run) => ({ day: run.run.inDay, order: 0, run, look: null })),
      ...episode.looks.map((look) => ({ day: look.look.day, order: 1, run: null, look })),
    ].sort((a, b) => a.day - b.day || a.order - b.order);

    for (const { run: ran, look: at } of steps) {
      if (ran) {
        const { run } = ran.run;
        const namesItem = run.item_seen === item;
        if (namesItem) failedRunNamedItem = true;
        if (failure || consequence) continue;
        if (namesItem && run.mode_seen === mode.mode) {
          const hour = run.hour_seen ?? null;
          const on = run.in_on ?? run.out_on;
          if (hour !== null && hour > ran.run.hours.high) {
            notices.push({
              code: "hour-seen-beyond-run",
              facts: { run: run.run, serial: run.serial, hour, hours: ran.run.hours.high },
              rows: [ran.run.row],
            });
          }
          if (hour !== null && hour <= ran.run.hours.high) {
            const age = span(ran.from.low + hour, ran.from.high + hour);
            failure = {
              kind: "exact",
              lower: age,
              upper: age,
              on,
              day: ran.run.inDay,
              stint: ran.stint,
              byLook: false,
            };
          } else
            failure = {
              kind: "failed between",
              lower: ran.from,
              upper: ran.to,
              on,
              day: ran.run.inDay,
              stint: ran.stint,
              byLook: false,
            };
          continue;
        }
        const saysNothingSeen = run.mode_seen === "none";
        const lostNow = run.pulled_because === "lost in hole";
        const masked =
          run.pulled_because === "tool failure" && (run.item_seen == null || (namesItem && run.mode_seen == null));
        lost ||= lostNow;
        if (saysNothingSeen || (!lostNow && !masked)) {
          silent = ran.to;
          if (mode.announces === "evident")
            [knownOn, lastWasLook, lastInformative] = [run.in_on ?? run.out_on, false, false];
        }
      } else if (at) {
        const { look, age } = at;
        const informative = look.teardown.why === "tool failure" && failedRunNamedItem;
        failedRunNamedItem = false;
        const finding = look.findings.find(({ condition }) => condition === mode.mode);
        if (finding && finding.severity == null) {
          notices.push({
            code: "severity-missing",
            facts: {
              teardown: look.teardown.teardown,
              serial: look.teardown.serial,
              item,
              mode: mode.mode,
              threshold: mode.threshold,
            },
            rows: look.rows,
          });
        }
        const failed = finding !== undefined && (finding.severity ?? mode.threshold) >= mode.threshold;
        if (failure || consequence) {
          if (failed && failure) {
            if (failure.byLook || at.stint !== failure.stint) alreadyFailed.push(at);
            else failureInformative ||= informative;
          }
          continue;
        }
        if (failed) {
          const struck =
            finding.caused_by == null ? null : this.whenStruck(episode, at, finding.caused_by, clean, notices);
          marks.push({ at, found: "failed", informative });
          if (struck) consequence = { lower: struck, on: look.teardown.done_on, informative };
          else {
            failure = {
              kind: "failed between",
              lower: clean,
              upper: age,
              on: look.teardown.done_on,
              stint: at.stint,
              day: look.day,
              byLook: true,
            };
            failureInformative = informative;
          }
        } else if (look.destroyed) marks.push({ at, found: "spoilt", informative });
        else if (mode.announces === "hidden" && !look.seesHidden) sawFromOutsideOnly = true;
        else {
          clean = age;
          silent = age;
          [knownOn, lastWasLook, lastInformative] = [look.teardown.done_on, true, informative];
          marks.push({ at, found: look.how === "written" ? "sound as written" : "sound by scope", informative });
        }
      }
    }

    const shared = { marks, alreadyFailed, sawFromOutsideOnly, notices };
    if (failure) {
      return {
        ...shared,
        kind: failure.kind,
        lower: failure.lower,
        upper: failure.upper,
        closedBy: "failure",
        endedOn: failure.on,
        shownAt: { stint: episode.stints[failure.stint]!, day: failure.day },
        informative: failureInformative,
      };
    }
    if (consequence) {
      return {
        ...shared,
        kind: "right",
        lower: consequence.lower,
        upper: null,
        closedBy: "another mode",
        endedOn: consequence.on,
        shownAt: null,
        informative: consequence.informative,
      };
    }
    return {
      ...shared,
      kind: "right",
      lower: mode.announces === "evident" ? silent : clean,
      upper: null,
      closedBy: lost ? "loss" : lastWasLook ? "look" : "last run",
      endedOn: knownOn,
      shownAt: null,
      informative: lastInformative,
    };
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
