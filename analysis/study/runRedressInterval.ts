import { median } from "simple-statistics";
import { costRate } from "../decisions/costRate.ts";
import { type Banded, decideInterval, type IntervalDecision, type Ranged } from "../decisions/decideInterval.ts";
import { demonstrationPlans } from "../decisions/demonstrationPlan.ts";
import { quantileOf } from "../decisions/quantileOf.ts";
import type { ModeLaw, RedressCosts } from "../decisions/redressModel.ts";
import type { WeibullParameters } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";
import { ageLimits } from "./ageLimits.ts";
import { agesToday } from "./agesToday.ts";
import { comparePolicies } from "./comparePolicies.ts";
import { costsOfShop, type ShopCosts } from "./costsOfShop.ts";
import type { LineWithBounds, ModeInDecision, RedressIntervalResult } from "./decisionTypes.ts";
import { usualDecision } from "./definition.ts";
import { DRAWS, type FittedMode, fitModes } from "./fitModes.ts";
import { heatModes } from "./heat/heatModes.ts";
import { countedAt, heatNotices, heatOfWells } from "./heat/heatOfWells.ts";
import { decidedInterval } from "./intervalInForce.ts";
import { derivationNotices } from "./notices.ts";
import { plannedAges } from "./plannedAges.ts";
import { type RedressPractice, redressPractice } from "./redressPractice.ts";
import { type Report, silent, within } from "./report.ts";
import { failureDefinition, inScope, provenance, type ShopData, type StudyContext } from "./shopData.ts";
import { sinceDecided } from "./sinceDecided.ts";
import type { Estimate, Notice, StudyDefinition } from "./types.ts";
import { withinReason } from "./withinReason.ts";

/** A redress that renews a mode at least this often counts as renewing it. Common practice, no source. */
const USUALLY = 0.5;
/** Points of the curves that the page gets: every third of the grid they are worked out on. */
const EVERY = 3;
/** Running to failure is told where its mean cycle is at most so many times experience. Own choice, no source. */
const FAR_TAIL = 2;
/** Costs per hour are told per 1,000 h. */
const PER = 1000;

/**
 * "When do we redress?": cost against interval for one item, or for all that a usual redress of the tool renews, with
 * competing, linked and hidden modes; what the parameters leave open; the age limits of an allowed risk.
 * Errors  "no-lives" where the scope holds no life of any mode that a redress restores; "bad-setting".
 */
export function runRedressInterval(
  definition: StudyDefinition,
  data: ShopData,
  context: StudyContext,
  report: Report = silent,
): RedressIntervalResult {
  const settings = definition.decision ?? usualDecision;
  const { scope, confidence } = definition;
  const toolType = chooseToolType(definition, data);
  const practice = redressPractice(data, definition, toolType);
  const { counted: inHours, ownClock } = modesToCount(definition, data, toolType, practice, within(report, 0, 0.3));
  if (inHours.length === 0)
    throw new AnalysisError("no-lives", { item: scope.item, mode: scope.mode, tool_type: toolType });
  const { wellC } = settings;
  const wells = wellC === null ? null : heatModes(data, definition, toolType, within(report, 0.3, 0.5));
  const counted = wellC === null || wells === null ? inHours : countedAt(wells, inHours, wellC);
  const costs = costsOfShop(data.records.costs ?? [], toolType, data.derived.cutoff, settings);
  const priced = priceOf(counted, costs);
  const longestAge = experienceOf(counted);
  const laws = counted.map(({ law }) => law);
  const draws = drawsTogether(counted);
  const longest = longestToAsk(longestAge, laws, priced);
  const today = agesToday(practice);
  report(0.5, "weighing every interval under every draw");
  const decision = decideInterval({ laws, draws, costs: priced, longest, confidence, today });

  const runHours =
    settings.runHours ??
    (practice.runs.length === 0 ? 50 : Math.round(median(practice.runs.map(({ hours }) => hours))));
  const limits = ageLimits(decision, { runHours, allowedChance: settings.allowedChance, confidence });
  const common = estimatesOf(confidence);
  const chosenAge = decision.recommended?.age ?? null;
  const decided = decidedInterval(data, toolType, scope.item);
  const endless = decision.runToFailure === null;
  const farTail = (decision.estimate.runToFailure?.meanLength ?? 0) > FAR_TAIL * longestAge;
  const untold = endless ? "nothing stops a job" : farTail ? "not reached" : null;
  const modes = counted.map((mode, place) =>
    modeInDecision(mode, place, decision, priced, costs, chosenAge ?? longest, common),
  );

  const heat =
    wellC === null || wells === null
      ? null
      : heatOfWells(wells, inHours, wellC, (there) => {
          const far = longestToAsk(
            experienceOf(there),
            there.map(({ law }) => law),
            priced,
          );
          const at = decideInterval({
            laws: there.map(({ law }) => law),
            draws: drawsTogether(there),
            costs: priced,
            longest: far,
            confidence,
          });
          const { beforeRedress, nextRun } = ageLimits(at, {
            runHours,
            allowedChance: settings.allowedChance,
            confidence,
          });
          return { beforeRedress, nextRun, optimum: at.optimalAge };
        });
  report(0.75, "playing policies run by run");
  return {
    kind: "redress interval",
    definition,
    provenance: provenance(data, definition, context),
    scope: { ...scope, toolType },
    toolType,
    sizesIn: sizesOf(data, definition, toolType),
    item: scope.item,
    failureDefinition: failureDefinition(data, { ...scope, toolType }, definition, context),
    currency: costs.currency,
    planned: costs.planned,
    modes,
    ownClock,
    curves: {
      age: thin(decision.age),
      costRate: thinned(decision.costRate, PER),
      stoppedBefore: thinned(decision.stoppedBefore, 1),
      nextRun: thinned(limits.nextRunLine, 1),
    },
    longestAge,
    verdict: verdictOf(decision, counted, priced, modes),
    optimum: optimumOf(decision, common),
    recommended: recommendedOf(decision, common, untold),
    runToFailure:
      decision.runToFailure === null || untold !== null
        ? common.none("cost per 1,000 h", untold ?? "nothing stops a job")
        : common.of(decision.runToFailure, "cost per 1,000 h", PER),
    risk: {
      allowedChance: settings.allowedChance,
      oneSided: limits.oneSided,
      runHours,
      beforeRedress: limits.beforeRedress,
      demonstration: demonstrationPlans(settings.allowedChance, limits.oneSided),
      nextRun: limits.nextRun,
    },
    heat,
    today: plannedAges(practice.redresses),
    decided,
    sinceDecided: sinceDecided(data, definition, { toolType, counted: inHours, practice }),
    sensitivity: sensitivityOf(laws, priced, longest),
    policies: comparePolicies({
      counted,
      costs: priced,
      practice,
      recommended: chosenAge,
      limit: limits.beforeRedress.beyondGrid ? null : limits.beforeRedress.age,
      decided: decided?.intervalH ?? null,
      longest: longestAge,
      seed: definition.seed,
    }),
    notices: [
      ...intervalNotices(decision, counted, costs, longestAge, settings),
      ...heatNotices(wellC, heat),
      ...derivationNotices(data, { ...definition, scope: { ...scope, toolType } }, context),
    ],
  };
}

/** The tool type asked about; where left open, the one with most failures in scope. */
function chooseToolType({ scope }: StudyDefinition, data: ShopData): string {
  if (scope.toolType !== null) return scope.toolType;
  const failures = new Map<string, number>();
  for (const life of data.derived.lives) {
    if (!inScope({ ...scope, from: null, to: null }, life)) continue;
    failures.set(life.toolType, (failures.get(life.toolType) ?? 0) + (life.kind === "right" ? 0 : 1));
  }
  const most = [...failures].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0];
  if (!most) throw new AnalysisError("no-lives", { item: scope.item, mode: scope.mode, tool_type: null });
  return most[0];
}

/** Modes that the redress restores, and those of items that it usually leaves as they are. */
function modesToCount(
  definition: StudyDefinition,
  data: ShopData,
  toolType: string,
  practice: RedressPractice,
  report: Report,
): { counted: readonly FittedMode[]; ownClock: RedressIntervalResult["ownClock"] } {
  const { item, mode } = definition.scope;
  const items = data.items.filter((row) => row.tool_type === toolType && (item === null || row.item === item));
  const all = items
    .flatMap((row, place) => {
      report(place / items.length, `fitting the lives of ${row.item}`);
      return fitModes(data, definition, toolType, row.item);
    })
    .filter((one) => mode === null || one.mode.mode === mode || one.defect?.mode === mode)
    .map((one) => ({ one, renewedShare: practice.restoredShare(one.item, one.mode) }));
  const restored = ({ renewedShare }: { readonly renewedShare: number }) => item !== null || renewedShare >= USUALLY;
  return {
    counted: all.filter(restored).map(({ one }) => one),
    ownClock: all
      .filter((row) => !restored(row))
      .map(({ one, renewedShare }) => ({ item: one.item, mode: one.mode.mode, renewedShare })),
  };
}

const drawsTogether = (counted: readonly FittedMode[]): ModeLaw[][] =>
  Array.from({ length: DRAWS }, (_, draw) => counted.map((one) => one.draws[draw]!));

const priceOf = (counted: readonly FittedMode[], costs: ShopCosts): RedressCosts => ({
  planned: costs.planned.amount,
  modes: counted.map(() => ({ stops: costs.failure.amount, found: costs.found.amount })),
});

/** The age up to which every mode that stops jobs was followed; of all modes where none does. */
function experienceOf(counted: readonly FittedMode[]): number {
  const stopping = counted.filter(({ law }) => law.kind !== "hidden");
  return Math.min(...(stopping.length > 0 ? stopping : counted).map(({ longestAge }) => longestAge));
}

/**
 * Intervals are looked at up to a quarter beyond experience, farther where the best one by the estimate lies there, but
 * never beyond four times experience.
 */
function longestToAsk(longestAge: number, laws: readonly ModeLaw[], costs: RedressCosts): number {
  const near = Math.max(longestAge * 1.25, 1);
  const { optimalAge } = costRate(laws, costs, (4 * near) / 1.25 / 240, 240);
  return optimalAge === null ? near : Math.max(near, Math.min(optimalAge * 1.6, (4 * near) / 1.25));
}

interface Common {
  readonly of: (ranged: Ranged, unit: Estimate["unit"], times?: number) => Estimate;
  readonly none: (unit: Estimate["unit"], why: NonNullable<Estimate["why"]>) => Estimate;
}

function estimatesOf(confidence: number): Common {
  return {
    of: ({ value, lower, upper }, unit, times = 1) => ({
      value: value * times,
      lower: lower * times,
      upper: upper * times,
      confidence,
      method: "parameter draws",
      unit,
    }),
    none: (unit, why) => ({ value: null, lower: null, upper: null, confidence, method: "none", unit, why }),
  };
}

/** An interval is shown to pay where it does in this share of the draws. Common practice, no source. */
const SHOWN = 0.95;
const isShown = ({ payShare }: IntervalDecision): boolean => payShare >= SHOWN;

/**
 * Range and regret are told only where an interval is shown to pay. Before, the draws without a best interval have no place in
 * the range, and the range held the true best interval in half of simulated shops, the regret was three times the one foretold
 * (tests/studies/results/decision-study.md).
 */
function optimumOf(decision: IntervalDecision, common: Common): Estimate {
  const { optimalAge, optimumRange } = decision;
  if (optimalAge === null) return common.none("h", "no interval pays");
  if (optimumRange === null || !isShown(decision)) return common.none("h", "no interval shown to pay");
  const { lower, upper } = optimumRange;
  return common.of({ value: optimalAge, lower: Math.min(lower, optimalAge), upper: Math.max(upper, optimalAge) }, "h");
}

function recommendedOf(
  decision: IntervalDecision,
  common: Common,
  untold: "nothing stops a job" | "not reached" | null,
): RedressIntervalResult["recommended"] {
  const { recommended } = decision;
  if (recommended === null) return null;
  const shown = isShown(decision);
  const { age, flat, costRate: rate, stoppedBefore, regret, saving, againstToday } = recommended;
  return {
    age,
    flatFrom: flat.from,
    flatTo: flat.to,
    flatToEnd: flat.toEndOfGrid,
    costRate: common.of(rate, "cost per 1,000 h", PER),
    stoppedBefore: common.of(stoppedBefore, "fraction"),
    regretMean: shown ? regret.mean : null,
    regretUpper: shown ? regret.upper : null,
    saving:
      saving === null || untold !== null
        ? common.none("fraction", untold ?? "nothing stops a job")
        : common.of(saving, "fraction"),
    againstToday: againstToday && {
      saving: common.of(againstToday, "fraction"),
      cheaperShare: againstToday.cheaperShare,
    },
  };
}

function modeInDecision(
  fitted: FittedMode,
  place: number,
  { estimate }: IntervalDecision,
  priced: RedressCosts,
  costs: ShopCosts,
  age: number,
  common: Common,
): ModeInDecision {
  const { item, mode, defect, fittedAs, law, lives, failures, longestAge } = fitted;
  const { cycle } = estimate;
  const cell = Math.min(cycle.cells, Math.max(1, Math.round(age / cycle.step)));
  const stops = cycle.stops[place]![cell]!;
  const found = cycle.found[place]![cell]!;
  const own = priced.modes[place]!;
  const total = estimate.rate[cell]! * cycle.meanLength[cell]!;
  const main = mainLaw(law);
  const drawn = fitted.draws.map(mainLaw);
  const read = (of: (one: WeibullParameters) => number, unit: Estimate["unit"]): Estimate => {
    const none = common.none(unit, "no failures");
    const values = drawn.map(of);
    const low = quantileOf(values, (1 - none.confidence) / 2);
    const high = quantileOf(values, (1 + none.confidence) / 2);
    const value = of(main);
    if (!Number.isFinite(value)) return { ...none, lower: low };
    return common.of({ value, lower: Math.min(value, low), upper: Math.max(value, high) }, unit);
  };
  return {
    item,
    mode: mode.mode,
    defect: defect?.mode ?? null,
    kind: law.kind,
    law: fittedAs,
    lives,
    failures,
    shape: fittedAs === "constant rate" ? common.none("none", "no maximum") : read(({ shape }) => shape, "none"),
    scale: withinReason(
      read(({ scale }) => scale, "h"),
      longestAge,
    ),
    longestAge,
    stops: law.kind === "hidden" ? null : costs.failure,
    found: law.kind === "evident" ? null : costs.found,
    perCycle: { stops, found, costShare: (own.stops * stops + own.found * found) / total },
  };
}

const mainLaw = (law: ModeLaw): WeibullParameters => (law.kind === "linked" ? law.defect : law.life);

function verdictOf(
  decision: IntervalDecision,
  counted: readonly FittedMode[],
  priced: RedressCosts,
  modes: readonly ModeInDecision[],
): RedressIntervalResult["verdict"] {
  const { recommended, payShare, estimate } = decision;
  const pays = recommended === null ? "no" : isShown(decision) ? "yes" : "not shown";
  const stopping = counted.some(({ law }) => law.kind !== "hidden");
  const cheap = priced.modes.every(
    ({ stops }, place) => counted[place]!.law.kind === "hidden" || stops <= priced.planned,
  );
  const because =
    pays === "yes"
      ? null
      : !stopping || estimate.runToFailure === null
        ? "nothing stops a job"
        : cheap
          ? "a failure costs too little"
          : "the risk does not rise with hours";
  const worst = [...modes].sort((a, b) => b.perCycle.costShare - a.perCycle.costShare)[0];
  return {
    pays,
    payShare,
    because,
    fixFirst:
      worst === undefined || worst.perCycle.costShare <= 0
        ? null
        : { item: worst.item, mode: worst.defect ?? worst.mode, costShare: worst.perCycle.costShare },
  };
}

/** The estimate alone under other costs of a failure, and under other shapes with the same median lives. */
function sensitivityOf(
  laws: readonly ModeLaw[],
  costs: RedressCosts,
  longest: number,
): RedressIntervalResult["sensitivity"] {
  return [0.8, 1, 1.25].flatMap((shapeTimes) =>
    [0.5, 1, 2, 5].map((failureCostTimes) => {
      const moved: RedressCosts = {
        planned: costs.planned,
        modes: costs.modes.map(({ stops, found }) => ({ stops: stops * failureCostTimes, found })),
      };
      const { optimalAge, leastRate } = costRate(
        laws.map((law) => withShape(law, shapeTimes)),
        moved,
        longest / 160,
        160,
      );
      return { failureCostTimes, shapeTimes, optimum: optimalAge, costRate: leastRate * PER };
    }),
  );
}

function withShape(law: ModeLaw, times: number): ModeLaw {
  const steeper = ({ shape, scale }: WeibullParameters): WeibullParameters => ({
    shape: shape * times,
    scale: scale * Math.LN2 ** (1 / shape - 1 / (shape * times)),
  });
  return law.kind === "linked"
    ? { ...law, defect: steeper(law.defect) }
    : { ...law, life: law.life.shape === 1 ? law.life : steeper(law.life) };
}

function intervalNotices(
  { recommended }: IntervalDecision,
  counted: readonly FittedMode[],
  costs: ShopCosts,
  longestAge: number,
  { failureCost, foundCost }: NonNullable<StudyDefinition["decision"]>,
): Notice[] {
  const notices: Notice[] = [];
  const failure = counted.some(({ law }) => law.kind !== "hidden") ? costs.failure : null;
  if (costs.planned.source === "assumed" || failure?.source === "assumed") {
    notices.push({
      code: "costs-assumed",
      facts: {
        planned: costs.planned.source === "assumed" ? null : costs.planned.amount,
        ratio: failure === null ? null : failure.amount / costs.planned.amount,
        found: foundCost === null && failureCost === null ? 1 : 0,
      },
    });
  }
  if (costs.otherCurrency > 0)
    notices.push({ code: "costs-left-out", facts: { count: costs.otherCurrency, currency: costs.currency } });
  for (const { item, mode, failures, fittedAs } of counted) {
    if (fittedAs === "constant rate")
      notices.push({ code: "constant-rate", facts: { item, mode: mode.mode, failures } });
  }
  if (recommended !== null && recommended.age > longestAge)
    notices.push({ code: "interval-beyond-experience", facts: { age: recommended.age, longest: longestAge } });
  return notices;
}

function sizesOf(data: ShopData, { scope }: StudyDefinition, toolType: string): number[] {
  const sizes = (data.records.tools ?? [])
    .filter((tool) => tool.tool_type === toolType && (scope.sizeIn === null || tool.size_in === scope.sizeIn))
    .flatMap(({ size_in }) => (size_in == null ? [] : [size_in]));
  return [...new Set(sizes)].sort((a, b) => a - b);
}

const thin = <T>(values: readonly T[]): T[] => values.filter((_, place) => (place + 1) % EVERY === 0);

function thinned({ value, lower, upper }: Banded, times: number): LineWithBounds {
  const line = (values: readonly number[]) => thin(values).map((one) => one * times);
  return { value: line(value), lower: line(lower), upper: line(upper) };
}
