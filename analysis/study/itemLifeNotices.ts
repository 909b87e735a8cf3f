import type { LifeLaw } from "../distributions/lifeLaw.ts";
import type { LawMaximum } from "../estimation/fitLaw.ts";
import type { Excluded, Life } from "../lives/types.ts";
import { hasThreeParameters } from "./answerByLaw.ts";
import { knownShortfall } from "./knownShortfall.ts";
import type { ChosenScope } from "./livesAskedFor.ts";
import { derivationNotices } from "./notices.ts";
import { TOOLS_DIFFER } from "./serialsAlike.ts";
import type { ShopData, StudyContext } from "./shopData.ts";
import type { Steps } from "./survivalSteps.ts";
import type { ItemLifeResult, LifeCounts, Notice, StudyDefinition } from "./types.ts";

/** A law on the whole line that lets fewer than this fail before they ran is as good as cut at 0. Own choice, no source. */
const LEAST_SHARE_BEFORE_ZERO = 0.005;
/** Below this many failures the bounds of a fitted shape are wide and run low. Common practice, no source. */
const FEW_FAILURES = 10;

interface Facts {
  readonly definition: StudyDefinition;
  readonly data: ShopData;
  readonly context: StudyContext;
  readonly scope: ChosenScope;
  readonly lives: readonly Life[];
  readonly bounds: ItemLifeResult["bounds"];
  readonly excluded: readonly Excluded[];
  readonly counts: LifeCounts;
  readonly maximum: LawMaximum;
  readonly law: Pick<LifeLaw, "survival" | "cumulativeHazard"> | null;
  readonly linked: ItemLifeResult["linked"];
  readonly readings: ItemLifeResult["readings"];
  readonly longestAge: number;
  readonly steps: Steps;
  readonly sensitivity: ItemLifeResult["sensitivity"];
  /** What bounds and shape had to say. */
  readonly ofTheAnswer: readonly Notice[];
}

/** What a reader must know beside the number, most important first. */
export function itemLifeNotices(facts: Facts): Notice[] {
  const { definition, data, context, scope } = facts;
  return [
    ...aboutTheMaximum(facts),
    ...aboutTheBounds(facts),
    ...facts.ofTheAnswer,
    ...aboutTheLaw(facts),
    ...aboutLinks(facts),
    ...aboutTheLooks(facts),
    ...aboutTheTools(facts),
    ...aboutTheAges(facts),
    ...aboutTheFit(facts),
    ...derivationNotices(data, { ...definition, scope }, context),
  ];
}

/** A law that the reader chose: whether it can be read, and what it says that cannot be. */
function aboutTheLaw({ definition, maximum, law, linked, counts, scope }: Facts): Notice[] {
  const chosen = definition.law ?? "weibull";
  if (chosen === "weibull" || linked?.defect === scope.mode || counts.failures === 0) return [];
  if (law === null || maximum !== "found")
    return [{ code: "law-without-maximum", facts: { law: chosen, failures: counts.failures } }];
  const share = 1 - law.survival(0);
  return [
    ...(share > LEAST_SHARE_BEFORE_ZERO ? [{ code: "law-before-zero" as const, facts: { law: chosen, share } }] : []),
    ...(hasThreeParameters(chosen) ? [{ code: "curve-by-wald" as const, facts: { law: chosen } }] : []),
  ];
}

function aboutTheMaximum({ counts, maximum, longestAge, readings, definition }: Facts): Notice[] {
  const notices: Notice[] = [];
  if (counts.failures === 0) return [{ code: "no-failures", facts: { lives: counts.lives, longest: longestAge } }];
  if (maximum === "not converged") notices.push({ code: "not-converged", facts: { iterations: null } });
  else if (maximum !== "found" && (definition.law ?? "weibull") === "weibull")
    notices.push({ code: "no-maximum", facts: { failures: counts.failures, maximum } });
  if (counts.failures < FEW_FAILURES)
    notices.push({ code: "few-failures", facts: { failures: counts.failures, modes: null } });
  for (const reading of ["b10", "median", "mean"] as const) {
    const age = readings[reading].value;
    if (age !== null && age > longestAge) {
      notices.push({ code: "extrapolated", facts: { reading, age, longest: longestAge } });
      break;
    }
  }
  return notices;
}

/** Where bounds of this kind are known to hold less often than they say, with the figure. */
function aboutTheBounds({ definition, maximum, bounds, linked, scope, counts, lives }: Facts): Notice[] {
  const isUsual = (definition.law ?? "weibull") === "weibull" && maximum === "found" && linked?.defect !== scope.mode;
  if (!isUsual || bounds.method === "shape taken") return [];
  const shortfall = knownShortfall({
    method: bounds.method,
    failures: counts.failures,
    exact: counts.exact,
    looksALife: lives.reduce((sum, { looks }) => sum + looks.length, 0) / counts.lives,
    toolsDiffer: bounds.serialsAlike !== null && bounds.serialsAlike < TOOLS_DIFFER,
  });
  if (!shortfall) return [];
  const { failures, kind, side, missed } = shortfall;
  return [{ code: "bounds-fall-short", facts: { failures, kind, side, missed } }];
}

function aboutLinks({ linked, scope, definition }: Facts): Notice[] {
  if (linked === null) return [];
  const { defect, failure, withoutDefect } = linked;
  return [
    {
      code: "linked-modes",
      facts: { item: scope.item, mode: scope.mode, defect, failure, without_defect: withoutDefect },
    },
    ...(scope.mode === defect && (definition.law ?? "weibull") !== "weibull"
      ? [{ code: "law-of-linked-modes" as const, facts: { law: definition.law ?? null } }]
      : []),
  ];
}

/** Said where more than a tenth of the closing looks followed a failure of the same item. */
function aboutTheLooks({ counts, lives }: Facts): Notice[] {
  const notices: Notice[] = [];
  if (counts.informativeLooks > 0.1 * counts.looks)
    notices.push({ code: "informative-looks", facts: { informative: counts.informativeLooks, looks: counts.looks } });
  const clean = lives
    .flatMap(({ looks }) => looks)
    .filter(({ found }) => found === "sound as written" || found === "sound by scope").length;
  if (counts.soundByScope > 0)
    notices.push({ code: "sound-by-scope", facts: { by_scope: counts.soundByScope, looks: clean } });
  return notices;
}

function aboutTheTools({ counts, lives, bounds }: Facts): Notice[] {
  const notices: Notice[] = [];
  const sizes = [...new Set(lives.flatMap(({ sizeIn }) => (sizeIn === null ? [] : [sizeIn])))].sort((a, b) => a - b);
  if (sizes.length > 1) notices.push({ code: "sizes-pooled", facts: { sizes: sizes.join(", ") } });
  const p = bounds.serialsAlike;
  if (p !== null && p < TOOLS_DIFFER) {
    notices.push({
      code: "tools-differ",
      facts: { serials: counts.serials, p_value: p, bounds: bounds.method === "by serial" ? "by serial" : "separate" },
    });
  }
  return notices;
}

function aboutTheAges({ counts, lives, excluded, steps, sensitivity, readings }: Facts): Notice[] {
  const notices: Notice[] = [];
  const ranged = lives.filter(({ rangeBecause }) => rangeBecause !== null).length;
  if (ranged > 0) notices.push({ code: "ranged-ages", facts: { ranged, lives: counts.lives } });
  const medians = [readings.median.value, ...sensitivity.map(({ median }) => median)].filter(
    (value): value is number => value !== null,
  );
  if (sensitivity.length > 0)
    notices.push({
      code: "missing-hours-matter",
      facts: { reading: "median", lowest: Math.min(...medians), highest: Math.max(...medians) },
    });
  if (counts.leftTruncated > 0) {
    notices.push({
      code: "left-truncated",
      facts: { late: counts.leftTruncated, lives: counts.lives, from_age: steps.fromAge > 0 ? steps.fromAge : null },
    });
  }
  const [first] = excluded;
  if (first) {
    const reasons = new Map<string, number>();
    for (const { reason } of excluded) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
    const [reason] = [...reasons].sort((a, b) => b[1] - a[1])[0] ?? [first.reason];
    notices.push({
      code: "excluded-lives",
      facts: { excluded: excluded.length, histories: counts.lives + counts.noInformation + excluded.length, reason },
      rows: excluded.flatMap(({ rows }) => rows.slice(0, 1)),
    });
  }
  return notices;
}

/**
 * Fitted line against step line where the steps are determined. Said where they part by more than 1.36 over the root of
 * the failures: Kolmogorov's 5 % limit, which is generous here since the law was fitted to the same lives.
 */
function aboutTheFit({ law, steps, counts }: Facts): Notice[] {
  if (!law || counts.failures < FEW_FAILURES || steps.fromAge > 0) return [];
  let worst = { age: 0, fitted: 1, steps: 1 };
  for (const { to, survival } of steps.steps) {
    const line = law.survival(to);
    if (Math.abs(line - survival) > Math.abs(worst.fitted - worst.steps))
      worst = { age: to, fitted: line, steps: survival };
  }
  return Math.abs(worst.fitted - worst.steps) > 1.36 / Math.sqrt(counts.failures)
    ? [{ code: "poor-fit", facts: worst }]
    : [];
}
