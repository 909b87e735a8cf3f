import { bandsOf } from "../estimation/ratioByTool.ts";
import type { ToolCell } from "../estimation/toolSpread.ts";
import { ageBands, bandEdges, type DatedChange, sideOf } from "./ageBands.ts";
import { compareByTool, toolCells } from "./compareByTool.ts";
import { judgeComparisons } from "./compareRates.ts";
import { ranInScope } from "./exposure.ts";
import { type ExposureGroup, exposureGroups } from "./exposureGroups.ts";
import type { FittedMode } from "./fitModes.ts";
import { decisionInForce } from "./intervalInForce.ts";
import { plannedAges } from "./plannedAges.ts";
import type { RedressPractice } from "./redressPractice.ts";
import type { ShopData } from "./shopData.ts";
import type { SinceComparison, SinceDecided, SinceRow } from "./sinceDecidedTypes.ts";
import type { StudyDefinition } from "./types.ts";

interface Asked {
  readonly toolType: string;
  /** Modes that a redress of the scope restores. */
  readonly counted: readonly Pick<FittedMode, "item" | "mode" | "law">[];
  readonly practice: RedressPractice;
}

/**
 * Failures before and since the decision in force, by the day a run came in: all modes that a redress restores and that stop
 * a job, together and one by one; as they came, and at the same ages. The two are separate lists of comparisons (Holm in
 * each). The stretch before begins with the decision that held then.
 * @returns  Null where no decision holds.
 */
export function sinceDecided(data: ShopData, definition: StudyDefinition, asked: Asked): SinceDecided | null {
  const { toolType, counted, practice } = asked;
  const { records, derived } = data;
  const subject = { toolType, item: definition.scope.item };
  const decision = decisionInForce(records.decisions ?? [], subject, (day) => day <= derived.cutoff);
  if (decision === null) return null;
  const previous = decisionInForce(records.decisions ?? [], subject, (day) => day < decision.dated_on);

  const change: DatedChange = { on: decision.dated_on, countedFrom: null, appliesTo: "runs" };
  const countedFrom = previous?.dated_on ?? null;
  const scope = { ...definition.scope, toolType, from: laterOf(definition.scope.from, countedFrom) };
  const stopping = counted.filter(({ law }) => law.kind !== "hidden");
  const names = new Set((stopping.length > 0 ? stopping : counted).map((one) => nameOf(one.item, one.mode.mode)));
  const groups = exposureGroups(data, { ...definition, scope: { ...scope, mode: null } }).filter(({ item, mode }) =>
    names.has(nameOf(item, mode)),
  );
  const cells = groups.map((group) => ({ group, cells: cellsOf(group, scope, change) }));
  const rows = [
    { item: null, mode: null, aged: cells.flatMap((one) => one.cells), came: cameOf(groups, scope, change) },
    ...(cells.length === 1 ? [] : cells)
      .filter((one) => one.cells.some(({ failures }) => failures > 0))
      .map(({ group, cells: aged }) => ({ item: group.item, mode: group.mode, aged, came: merged(aged) })),
  ];
  const compared = (of: (row: (typeof rows)[number]) => readonly ToolCell[]): readonly SinceComparison[] =>
    judged(
      rows.map((row) => compare(of(row), definition)),
      definition.confidence,
    );
  const [came, aged] = [compared((row) => row.came), compared((row) => row.aged)];
  const [total, ...modes] = rows.map(
    ({ item, mode }, at): SinceRow => ({ item, mode, asTheyCame: came[at]!, sameAge: aged[at]! }),
  );
  const { before, after } = total!.asTheyCame;
  const inSide = (side: "before" | "after") =>
    plannedAges(
      practice.redresses.filter(
        ({ redress: { done_on } }) =>
          (countedFrom === null || done_on >= countedFrom) && sideOf(change, done_on) === side,
      ),
    );
  const whole = decision.item === "whole tool";
  return {
    decision: {
      datedOn: decision.dated_on,
      statement: decision.statement,
      item: decision.item,
      intervalH: decision.interval_h ?? null,
    },
    countedFrom,
    counts: stopping.length > 0 ? "stopped jobs" : "found in the shop",
    state: after.hours === 0 ? "nothing since" : before.hours === 0 ? "nothing before" : "compared",
    cutoff: derived.cutoff,
    total: total!,
    modes,
    ages: agesOf(groups, scope, change),
    planned: { before: whole ? inSide("before") : null, after: whole ? inSide("after") : null },
  };
}

const nameOf = (item: string, mode: string): string => JSON.stringify([item, mode]);

const laterOf = (a: string | null, b: string | null): string | null => (a === null || (b !== null && b > a) ? b : a);

type Since = StudyDefinition["scope"];

const cellsOf = ({ item, mode, exposures }: ExposureGroup, scope: Since, change: DatedChange): readonly ToolCell[] =>
  toolCells(exposures, scope, change, JSON.stringify([item, mode]));

/** Failures of all modes by tool, in the hours in which any of them was watched: an hour of a tool counts once. */
function cameOf(groups: readonly ExposureGroup[], scope: Since, change: DatedChange): readonly ToolCell[] {
  const watched = new Map<string, { tool: string; side: "before" | "after"; hours: number }>();
  for (const { life, pieces } of groups.flatMap(({ exposures }) => exposures))
    for (const piece of pieces) {
      const side = sideOf(change, piece.on);
      if (side === null || !ranInScope(scope, piece)) continue;
      const hours = Math.max(piece.hours, watched.get(piece.run)?.hours ?? 0);
      watched.set(piece.run, { tool: life.serial, side, hours });
    }
  const failed = groups.flatMap((group) => merged(cellsOf(group, scope, change)));
  return merged([
    ...[...watched.values()].map((one) => ({ ...one, stratum: "", failures: 0 })),
    ...failed.map((one) => ({ ...one, hours: 0 })),
  ]);
}

/** The same failures and hours in one stratum. */
function merged(cells: readonly ToolCell[]): readonly ToolCell[] {
  const sums = new Map<string, ToolCell>();
  for (const { tool, side, failures, hours } of cells) {
    const name = JSON.stringify([tool, side]);
    const sum = sums.get(name);
    sums.set(name, {
      ...{ tool, side, stratum: "" },
      failures: failures + (sum?.failures ?? 0),
      hours: hours + (sum?.hours ?? 0),
    });
  }
  return [...sums.values()];
}

function compare(cells: readonly ToolCell[], definition: StudyDefinition): Unjudged {
  const expectedAfter = [...bandsOf(cells).values()].reduce(
    (sum, { before, after }) => sum + (before.hours > 0 ? (before.failures * after.hours) / before.hours : 0),
    0,
  );
  return { ...compareByTool(cells, definition), expectedAfter };
}

type Unjudged = Omit<SinceComparison, "adjustedPValue" | "verdict">;

/**
 * Where the hours since would have brought fewer failures than -ln((1 - confidence) / 2) at the rates before, three at 90 %, none at
 * all since would not show a change: too little to tell. So are failures at ages that nothing ran to on the other side.
 */
function judged(compared: readonly Unjudged[], confidence: number): readonly SinceComparison[] {
  const enough = -Math.log((1 - confidence) / 2);
  return judgeComparisons(compared, confidence).map((one) =>
    one.verdict === "no difference shown" && (one.ratio.method === "none" || one.expectedAfter < enough)
      ? { ...one, verdict: "too little to tell" }
      : one,
  );
}

function agesOf(groups: readonly ExposureGroup[], scope: Since, change: DatedChange): SinceDecided["ages"] {
  const each = groups.map(({ exposures }) => ageBands(exposures, scope, change));
  return [0, ...bandEdges].map((from, place) => {
    const side = (which: "before" | "after") => ({
      failures: each.reduce((sum, bands) => sum + bands[place]![which].failures, 0),
      hours: each.reduce((sum, bands) => sum + bands[place]![which].hours, 0),
    });
    return { from, to: bandEdges[place] ?? null, before: side("before"), after: side("after") };
  });
}
