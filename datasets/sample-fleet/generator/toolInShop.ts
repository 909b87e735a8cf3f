/** The course of one tool through the shop: what comes next, and when. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import type { Book } from "./book.ts";
import { buildTool } from "./buildTool.ts";
import { dateOf } from "./days.ts";
import type { FleetOptions } from "./options.ts";
import { randomStream } from "./random.ts";
import { runTool } from "./runTool.ts";
import { tearDown } from "./tearDown.ts";
import type { ToolState } from "./toolState.ts";
import type { ToolType } from "./toolTypes.ts";
import { closeModes } from "./trueLife.ts";
import { effectTruths } from "./truth.ts";

export interface ToolSetup {
  readonly options: FleetOptions;
  readonly book: Book;
  readonly serial: string;
  readonly type: ToolType;
  readonly size: 4.75 | 6.5;
  readonly entryDay: number;
  readonly toDay: number;
  readonly inUseBefore: boolean;
}

export class ToolInShop {
  nextDay: number;
  private next: "entry look" | "build" | "run" | "teardown" = "build";
  private readonly tool: ToolState;
  private readonly entryDay: number;
  private readonly hoursAtEntry: number;
  private status: NonNullable<Row<"tools">["status"]> = "in shop";
  private statusDay: number;

  constructor(setup: ToolSetup) {
    const { options, serial, entryDay, inUseBefore } = setup;
    const draws = {
      life: randomStream(options.seed, `${serial}/life`),
      use: randomStream(options.seed, `${serial}/use`),
      build: randomStream(options.seed, `${serial}/build`),
      look: randomStream(options.seed, `${serial}/look`),
      habit: randomStream(options.seed, `${serial}/habit`),
    };
    const factor = draws.life.gammaMeanOne(effectTruths.toolSpreadVariance);
    const looked = draws.look.chance(0.6);
    this.hoursAtEntry = inUseBefore ? Math.round(draws.use.between(700, 1600)) : 0;
    this.entryDay = entryDay;
    this.statusDay = setup.toDay;
    this.tool = {
      ...setup,
      draws,
      factor: options.effects.toolSpread ? factor : 1,
      items: new Map(),
      hoursSinceRedress: 0,
      roughWells: false,
      hoursTarget: 0,
      plan: {
        reason: inUseBefore ? "planned" : "new",
        opened: new Set(setup.type.items.map((item) => item.item)),
        renew: new Set(),
        inUseBefore,
        lookedAtOnEntry: inUseBefore && looked,
      },
      reported: null,
      broughtInBy: "planned",
      silentLeak: false,
    };
    this.nextDay = entryDay + 2;
    if (this.tool.plan.lookedAtOnEntry) this.next = "entry look";
    if (inUseBefore) setup.book.happen("in use before the records", "tools", serial);
  }

  get serial(): string {
    return this.tool.serial;
  }

  get factor(): number {
    return this.tool.factor;
  }

  step(): void {
    const { use, look } = this.tool.draws;
    const day = this.nextDay;
    if (this.next === "entry look") {
      this.lookOnEntry(day);
      this.follow("build", day + use.integer(1, 4));
    } else if (this.next === "build") {
      this.build(day);
    } else if (this.next === "teardown") {
      tearDown(this.tool, day, this.tool.broughtInBy);
      this.tool.broughtInBy = "planned";
      this.follow("build", day + use.integer(0, 6));
    } else {
      const { inDay, reportedDay, lost, out } = runTool(this.tool, day);
      if (out || lost) {
        this.status = out ? "out" : "lost in hole";
        if (lost) this.statusDay = inDay;
        this.nextDay = Number.POSITIVE_INFINITY;
        return;
      }
      const { hoursSinceRedress, hoursTarget, broughtInBy, silentLeak } = this.tool;
      const comesIn = hoursSinceRedress > hoursTarget || broughtInBy === "tool failure" || silentLeak;
      const wait = use.integer(2, 8);
      const outsideOnly = look.chance(0.08);
      const shelved = look.chance(0.008) && this.tool.options.dirt.notTornDown;
      if (comesIn && shelved) {
        const lastRun = this.tool.book.runs.at(-1);
        if (lastRun) this.tool.book.happen("never torn down", "runs", lastRun.run);
        this.nextDay = Number.POSITIVE_INFINITY;
      } else if (comesIn) this.follow("teardown", Math.max(inDay + wait, Math.min(reportedDay, inDay + 12)));
      else {
        if (outsideOnly && inDay + 1 <= this.tool.toDay) this.lookOutside(inDay + 1);
        this.follow("run", inDay + wait + use.integer(3, 21));
      }
    }
  }

  private build(day: number): void {
    const { use, habit } = this.tool.draws;
    const first = this.tool.items.size === 0;
    const rejected = habit.chance(0.02) && this.tool.options.dirt.buildRejects && !first;
    buildTool(this.tool, day, !rejected);
    if (rejected) {
      const redress = this.tool.book.redresses.at(-1);
      if (redress) this.tool.book.happen("build failed its test", "redresses", redress.redress);
      const seals = this.tool.type.items.filter((item) => item.kind === "seal" || item.item === "index pin");
      const rebuildDay = day + use.integer(1, 2);
      this.tool.plan = {
        reason: "failure",
        opened: this.tool.plan.opened,
        renew: new Set(seals.map((item) => item.item)),
        inUseBefore: false,
        lookedAtOnEntry: false,
      };
      if (rebuildDay > this.tool.toDay) {
        this.nextDay = Number.POSITIVE_INFINITY;
        return;
      }
      buildTool(this.tool, rebuildDay, true);
      this.follow("run", rebuildDay + use.integer(3, 18));
      return;
    }
    this.follow("run", day + use.integer(3, 18));
  }

  /** A tool in use before the records began is looked at before its first redress here, and found sound. */
  private lookOnEntry(day: number): void {
    const { book, serial, type } = this.tool;
    const teardown = book.nextTeardown();
    const items = type.items.filter((item) => item.kind !== "seal" && item.item !== "index pin");
    book.teardowns.push({
      teardown,
      serial,
      done_on: dateOf(day),
      why: "planned",
      scope: items.map((item) => item.item),
      kind: "stripped",
      technician: "tech 1",
    });
    for (const item of items)
      book.findings.push({ teardown, item: item.item, condition: "sound", severity: 0, disposition: "reused" });
  }

  private lookOutside(day: number): void {
    const { book, serial } = this.tool;
    const technician = "tech 1";
    book.teardowns.push({
      teardown: book.nextTeardown(),
      serial,
      done_on: dateOf(day),
      why: "other",
      kind: "outside only",
      technician,
    });
  }

  private follow(next: "build" | "run" | "teardown", day: number): void {
    this.next = next;
    this.nextDay = day;
  }

  /** At the end of the records: lives of a lost tool end with it, others go on. */
  close(): void {
    for (const item of this.tool.items.values()) closeModes(item, this.status === "lost in hole" ? "lost" : "running");
  }

  row(): Row<"tools"> {
    return {
      serial: this.serial,
      tool_type: this.tool.type.name,
      size_in: this.tool.size,
      entered_on: dateOf(this.entryDay),
      hours_at_entry: this.hoursAtEntry,
      status: this.status,
      status_on: dateOf(this.statusDay),
      location: this.status === "in shop" ? "yard" : null,
    };
  }
}
