import type { HistoryEvent, Life, LookMark, Row, RowRef, RunMark, ToolHistoryResult } from "../../../analysis/index.ts";
import { cutoff, dateOn, items, lastDay, provenance, seeded, toolType } from "./common.ts";

const serial = "AD650-017";
const ref = (table: RowRef["table"], key: string): RowRef => ({ table, key: JSON.stringify([key]) });

/** Followed modes of the invented tool: item, mode, whether only the shop sees it, mean life in hours. */
const followed: readonly (readonly [item: string, mode: string, hidden: boolean, scale: number])[] = [
  ["main seal", "extrusion", true, 480],
  ["upper seal", "leak", false, 900],
  ["J2", "back-off", true, 620],
  ["spring stack", "fatigue crack", true, 1500],
  ["guide band", "wear", true, 700],
  ["torque pin", "wear", true, 1100],
];

interface Lane {
  readonly item: string;
  readonly mode: string;
  readonly hidden: boolean;
  since: string;
  sinceOn: string;
  age: number;
  sound: number;
  failsAt: number;
  failed: boolean;
  looks: LookMark[];
  runs: RunMark[];
}

/** The story of one serial from its first build in March 2023 to the cut-off. */
export function toolHistoryFixture(seed = 5): ToolHistoryResult {
  const random = seeded(seed);
  const events: HistoryEvent[] = [];
  const lives: Life[] = [];
  let hours = 0;
  let order = 0;
  let failures = 0;
  let day = 72;
  let redressNumber = 1;
  const lanes: Lane[] = followed.map(([item, mode, hidden, scale]) =>
    fresh(item, mode, hidden, scale, "R-3001", dateOn(day), random),
  );
  redress(
    "new",
    lanes.map((lane) => lane.item),
  );
  for (let number = 1; day < lastDay - 30; number++) {
    const runHours = Math.round(2 * (18 + random() * 82)) / 2;
    const missing = number === 9;
    const outOn = dateOn(day + 3);
    const length = 3 + runHours / 13;
    const seen = lanes.find((lane) => !lane.hidden && !lane.failed && lane.failsAt <= lane.age + runHours);
    const run: Row<"runs"> = {
      run: `RUN-${String(4100 + number)}`,
      serial,
      out_on: outOn,
      in_on: dateOn(day + 3 + length),
      hours: missing ? null : runHours,
      hours_kind: "circulating",
      customer: random() < 0.6 ? "Customer A" : "Customer B",
      well: `Well ${1 + Math.floor(random() * 12)}`,
      max_temperature_C: Math.round(85 + random() * 50),
      pulled_because: seen ? "tool failure" : random() < 0.7 ? "planned" : "hole problem",
      item_seen: seen?.item ?? null,
      mode_seen: seen?.mode ?? null,
    };
    for (const lane of lanes) {
      lane.runs.push({
        row: ref("runs", run.run),
        outOn,
        inOn: run.in_on ?? null,
        from: lane.age,
        to: lane.age + runHours,
      });
      lane.age += runHours;
    }
    hours += runHours;
    day += 3 + length;
    push(day, ref("runs", run.run), { kind: "run", run, counted: true });
    if (seen) close(seen, true, "failure");
    if (seen || number % 3 === 0) {
      day += 4;
      teardown(seen !== undefined, number === 12);
      day += 5;
      const renewed = lanes.filter(
        (lane) => lane.failed || lane.item === "main seal" || (lane.age > 450 && random() < 0.5),
      );
      redress(
        seen ? "failure" : "planned",
        renewed.map((lane) => lane.item),
      );
    }
    day += 5 + random() * 24;
  }
  for (const lane of lanes) if (!lane.failed) close(lane, false, lane.hidden ? "look" : "last run");
  return {
    kind: "tool history",
    provenance,
    tool: {
      serial,
      tool_type: toolType,
      size_in: 6.5,
      entered_on: dateOn(70),
      hours_at_entry: 0,
      status: "in shop",
      status_on: cutoff,
    },
    items,
    events,
    lives,
    ages: lanes.map((lane) => ({
      item: lane.item,
      mode: lane.mode,
      since: lane.since,
      sinceOn: lane.sinceOn,
      age: lane.age,
      state: lane.failed ? "failed" : "running",
      restoredBy: "renewed",
    })),
    runs: events.filter((event) => event.event.kind === "run").length,
    hours,
    failures,
    toolEvents: [],
    notices: [{ code: "invented-data", facts: {} }],
  };

  function push(on: number, row: RowRef, event: HistoryEvent["event"]): void {
    events.push({ on: dateOn(on), order: ++order, row, toolHours: hours, event });
  }

  function close(lane: Lane, failed: boolean, by: Life["closedBy"]): void {
    const exact = failed && !lane.hidden;
    const at = exact ? Math.round(lane.failsAt) : lane.age;
    // A hidden mode at which nobody has looked tells nothing yet: no life.
    if (!failed && lane.hidden && lane.sound === 0) return;
    const kind = !failed ? "right" : exact ? "exact" : lane.sound === 0 ? "left" : "interval";
    lives.push({
      id: `${lane.item}|${lane.mode}|${serial}|${lane.since}`,
      toolType,
      sizeIn: 6.5,
      serial,
      item: lane.item,
      itemSerial: null,
      mode: lane.mode,
      since: lane.since,
      sinceOn: lane.sinceOn,
      kind,
      lower: failed ? (exact ? at : lane.sound) : lane.hidden ? lane.sound : lane.age,
      upper: failed ? at : null,
      entry: 0,
      rangeBecause: null,
      closedBy: by,
      endedOn: dateOn(day),
      informative: false,
      looks: lane.looks,
      runs: lane.runs,
      rows: [ref("redresses", lane.since), ...lane.runs.map((run) => run.row), ...lane.looks.map((look) => look.row)],
    });
    if (failed) {
      failures++;
      lane.failed = true;
    }
  }

  function teardown(afterFailure: boolean, outside: boolean): void {
    const key = `TD-${String(900 + order)}`;
    const findings: Row<"findings">[] = [];
    for (const lane of lanes) {
      const failed = lane.failed || (!outside && lane.failsAt <= lane.age);
      findings.push({
        teardown: key,
        item: lane.item,
        condition: failed ? lane.mode : "sound",
        severity: failed ? 4 : 0,
      });
      if (outside) continue;
      lane.looks.push({
        row: ref("teardowns", key),
        on: dateOn(day),
        age: lane.age,
        found: failed ? "failed" : "sound as written",
        informative: afterFailure && failed,
      });
      if (failed && !lane.failed) close(lane, true, "look");
      if (!failed) lane.sound = lane.age;
    }
    push(day, ref("teardowns", key), {
      kind: "teardown",
      teardown: {
        teardown: key,
        serial,
        done_on: dateOn(day),
        why: afterFailure ? "tool failure" : "planned",
        scope: lanes.map((lane) => lane.item),
        kind: outside ? "outside only" : "stripped",
      },
      findings: outside ? [] : findings,
    });
  }

  function redress(reason: Row<"redresses">["reason"], renewed: readonly string[]): void {
    const key = `R-${String(3000 + redressNumber++)}`;
    const row: Row<"redresses"> = {
      redress: key,
      serial,
      done_on: dateOn(day),
      reason,
      technician: "K. L.",
      pressure_test: "pass",
    };
    lanes.forEach((lane, index) => {
      if (reason === "new" || !renewed.includes(lane.item)) return;
      if (!lane.failed) close(lane, false, "look");
      const [item, mode, hidden, scale] = followed[index] ?? [lane.item, lane.mode, lane.hidden, 600];
      lanes[index] = fresh(item, mode, hidden, scale, key, dateOn(day), random);
    });
    push(day, ref("redresses", key), {
      kind: "redress",
      redress: row,
      joints: ["J1", "J2", "J3", "J4"].map((joint) => ({
        redress: key,
        joint,
        new_thread: reason === "new",
        target_torque_Nm: joint === "J2" || joint === "J3" ? 18500 : 21000,
        final_torque_Nm: Math.round((joint === "J2" || joint === "J3" ? 18500 : 21000) * (0.94 + 0.1 * random())),
      })),
      fitted: lanes.map((lane) => ({ redress: key, item: lane.item, renewed: renewed.includes(lane.item) })),
    });
  }
}

function fresh(
  item: string,
  mode: string,
  hidden: boolean,
  scale: number,
  since: string,
  sinceOn: string,
  random: () => number,
): Lane {
  const failsAt = scale * (-Math.log(1 - random())) ** 0.5;
  return { item, mode, hidden, since, sinceOn, age: 0, sound: 0, failsAt, failed: false, looks: [], runs: [] };
}
