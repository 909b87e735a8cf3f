import type { Row } from "../records/descriptor.ts";
import { type Span, span } from "./age.ts";
import type { Episode, EpisodeLook, EpisodeRun } from "./episodes.ts";
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

/** Age at which another mode struck, or null where the record names no other mode. */
export type WhenStruck = (at: EpisodeLook, causedBy: string, clean: Span, notices: LivesNotice[]) => Span | null;

interface Failure {
  readonly kind: "exact" | "failed between";
  readonly lower: Span;
  readonly upper: Span;
  readonly on: string;
  readonly day: number;
  readonly stint: number;
  readonly byLook: boolean;
}

/**
 * Walks one episode from run to look to run and keeps what is known: sound until `clean` by a look, silent until `silent`
 * by the runs, then failed, or ended by another mode. After either, later steps only confirm.
 */
export class EpisodeWalk {
  private clean: Span;
  /** The last clean look with fewer hours than `clean`: a look that found the mode without a run between goes back to it. */
  private cleanBefore: Span;
  private silent: Span;
  private known: { readonly on: string; readonly byLook: boolean; readonly informative: boolean } | null = null;
  private failure: Failure | null = null;
  private failureInformative = false;
  private struck: { readonly at: Span; readonly on: string; readonly informative: boolean } | null = null;
  private lost = false;
  private sawFromOutsideOnly = false;
  /** A run since the last look failed by this item, so that the look came because of it. */
  private runNamedItem = false;
  private readonly marks: { at: EpisodeLook; found: LookMark["found"]; informative: boolean }[] = [];
  private readonly alreadyFailed: EpisodeLook[] = [];
  private readonly notices: LivesNotice[] = [];

  constructor(
    private readonly episode: Episode,
    private readonly whenStruck: WhenStruck,
  ) {
    this.clean = span(episode.entry ?? 0);
    this.silent = this.clean;
    this.cleanBefore = this.clean;
  }

  takeRun(ran: EpisodeRun): void {
    const { run } = ran.run;
    const { item, mode } = this.episode;
    if (run.item_seen === item) this.runNamedItem = true;
    if (this.failure || this.struck) return;
    if (run.item_seen === item && run.mode_seen === mode.mode) {
      this.failure = this.failureInRun(ran);
      return;
    }
    this.lost ||= run.pulled_because === "lost in hole";
    if (!saysNothingAbout(run, item)) {
      this.silent = ran.to;
      if (mode.announces === "evident") this.known = { on: run.in_on ?? run.out_on, byLook: false, informative: false };
    }
  }

  takeLook(at: EpisodeLook): void {
    const { look } = at;
    const informative = look.teardown.why === "tool failure" && this.runNamedItem;
    this.runNamedItem = false;
    const finding = this.findingOf(at);
    const failed =
      finding !== undefined && (finding.severity ?? this.episode.mode.threshold) >= this.episode.mode.threshold;
    if (this.failure || this.struck) this.confirm(at, failed, informative);
    else if (failed) this.fail(at, finding, informative);
    else if (look.destroyed) this.marks.push({ at, found: "spoilt", informative });
    else if (this.episode.mode.announces === "hidden" && !look.seesHidden) this.sawFromOutsideOnly = true;
    else {
      if (at.age.high > this.clean.high) this.cleanBefore = this.clean;
      this.clean = at.age;
      this.silent = at.age;
      this.known = { on: look.teardown.done_on, byLook: true, informative };
      this.marks.push({ at, found: look.how === "written" ? "sound as written" : "sound by scope", informative });
    }
  }

  outcome(): Outcome {
    const { marks, alreadyFailed, sawFromOutsideOnly, notices, failure, struck, known } = this;
    const shared = { marks, alreadyFailed, sawFromOutsideOnly, notices };
    if (failure) {
      const { kind, lower, upper, on, stint, day } = failure;
      const shownAt = { stint: this.episode.stints[stint]!, day };
      return {
        ...shared,
        kind,
        lower,
        upper,
        closedBy: "failure",
        endedOn: on,
        shownAt,
        informative: this.failureInformative,
      };
    }
    const open = { ...shared, kind: "right", upper: null, shownAt: null } as const;
    if (struck)
      return {
        ...open,
        lower: struck.at,
        closedBy: "another mode",
        endedOn: struck.on,
        informative: struck.informative,
      };
    return {
      ...open,
      lower: this.episode.mode.announces === "evident" ? this.silent : this.clean,
      closedBy: this.lost ? "loss" : known?.byLook ? "look" : "last run",
      endedOn: known?.on ?? null,
      informative: known?.informative ?? false,
    };
  }

  /** The run names this mode: at its hour where that is written and within the run, else somewhere in the run. */
  private failureInRun({ run: { run, row, hours, inDay }, from, to, stint }: EpisodeRun): Failure {
    const hour = run.hour_seen ?? null;
    const base = { on: run.in_on ?? run.out_on, day: inDay, stint, byLook: false };
    if (hour !== null && hour <= hours.high) {
      const age = span(from.low + hour, from.high + hour);
      return { ...base, kind: "exact", lower: age, upper: age };
    }
    if (hour !== null) {
      this.notices.push({
        code: "hour-seen-beyond-run",
        facts: { run: run.run, serial: run.serial, hour, hours: hours.high },
        rows: [row],
      });
    }
    return { ...base, kind: "failed between", lower: from, upper: to };
  }

  private findingOf({ look }: EpisodeLook): Row<"findings"> | undefined {
    const { item, mode } = this.episode;
    const finding = look.findings.find(({ condition }) => condition === mode.mode);
    if (finding && finding.severity == null) {
      const { teardown, serial } = look.teardown;
      this.notices.push({
        code: "severity-missing",
        facts: { teardown, serial, item, mode: mode.mode, threshold: mode.threshold },
        rows: look.rows,
      });
    }
    return finding;
  }

  private fail(at: EpisodeLook, finding: Row<"findings">, informative: boolean): void {
    const on = at.look.teardown.done_on;
    const struck = finding.caused_by == null ? null : this.whenStruck(at, finding.caused_by, this.clean, this.notices);
    this.marks.push({ at, found: "failed", informative });
    if (struck) this.struck = { at: struck, on, informative };
    else {
      this.failure = {
        kind: "failed between",
        lower: this.lastCleanUnder(at.age),
        upper: at.age,
        on,
        day: at.look.day,
        stint: at.stint,
        byLook: true,
      };
      this.failureInformative = informative;
    }
  }

  /** Sound at one look and failed at the next with no run between: one of them erred, and the later one saw it. */
  private lastCleanUnder(age: Span): Span {
    return this.clean.high >= age.high && this.clean.low >= age.low ? this.cleanBefore : this.clean;
  }

  /** The first look after a run that failed confirms it; any other finding of the same is listed as already failed. */
  private confirm(at: EpisodeLook, failed: boolean, informative: boolean): void {
    if (!failed || !this.failure) return;
    if (this.failure.byLook || at.stint !== this.failure.stint) this.alreadyFailed.push(at);
    else this.failureInformative ||= informative;
  }
}

/** A lost run, or one pulled for a failure that may have been this item's, is no word that an evident mode was absent. */
function saysNothingAbout(run: Row<"runs">, item: string): boolean {
  if (run.mode_seen === "none") return false;
  const masked =
    run.pulled_because === "tool failure" &&
    (run.item_seen == null || (run.item_seen === item && run.mode_seen == null));
  return masked || run.pulled_because === "lost in hole";
}
