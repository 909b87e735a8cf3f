import { AnalysisError } from "../errors.ts";
import { buildReader, type CellNotes, cellName } from "../practice/explain/buildFacts.ts";
import type { AuditRule } from "../records/audit/types.ts";
import type { Records } from "../records/descriptor.ts";
import { examinePractice } from "./buildPractice/examinePractice.ts";
import { jointTorques } from "./buildPractice/jointTorques.ts";
import { modeGroups } from "./buildPractice/modeGroups.ts";
import { practiceNotices } from "./buildPractice/practiceNotices.ts";
import { type Screen, type ScreenedContrast, screenPractices } from "./buildPractice/screenPractices.ts";
import { FALSE_DISCOVERY_RATE } from "./buildPractice/testPractices.ts";
import type { BuildPracticeResult, LotOnWatch, PracticeChoice } from "./buildPractice/types.ts";
import { watchLots } from "./buildPractice/watchLots.ts";
import { contentHash } from "./contentHash.ts";
import { openDoubts } from "./recordsOfStudy.ts";
import { type Report, silent } from "./report.ts";
import { failureDefinition, provenance, type ShopData, type StudyContext } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

interface Screened {
  readonly screen: Screen;
  readonly lots: readonly LotOnWatch[];
  readonly lotsTested: number;
  readonly notes: CellNotes;
}

const known = new WeakMap<Records, Map<string, Screened>>();

/**
 * "What in the build makes the difference?": every practice against every mode in scope as a multiplier of life, unadjusted and
 * adjusted, tested over the whole screen, with one comparison looked at closely. The screen is worked out once for the same
 * records and settings, so that looking closely at another comparison costs only that.
 *
 * Errors  "no-lives" where the scope holds no item with a failure mode; "practice-not-found" for a focus that is not compared.
 */
export function runBuildPractice(
  definition: StudyDefinition,
  data: ShopData,
  context: StudyContext,
  report: Report = silent,
): BuildPracticeResult {
  const { scope } = definition;
  const { screen, lots, lotsTested, notes } = screened(definition, data, context, report);
  const focus = focusOf(screen, definition);
  report(0.95, "looking closely");
  const detail = focus ? examinePractice(focus, screen, data, definition) : null;
  const rows = screen.tables.flatMap((table) => table.rows);
  const comparisons = screen.contrasts.map(({ comparison }) => comparison);
  return {
    kind: "build practice",
    definition,
    provenance: provenance(data, definition, context),
    scope,
    failureDefinition: failureDefinition(data, { ...scope, item: null }, definition, context),
    comparisons,
    tested: screen.tested,
    claims: screen.claims,
    falseDiscoveryRate: FALSE_DISCOVERY_RATE,
    lives: rows.length,
    failures: rows.filter(({ failed }) => failed).length,
    serials: new Set(rows.map(({ life }) => life.serial)).size,
    detail,
    lots,
    lotsTested,
    joints: jointTorques(data, scope, notes),
    notices: practiceNotices({ definition, data, context, comparisons, tested: screen.tested }),
  };
}

function screened(definition: StudyDefinition, data: ShopData, context: StudyContext, report: Report): Screened {
  const { focus: _, ...settings } = definition;
  const byDefinition = known.get(data.records) ?? new Map<string, Screened>();
  known.set(data.records, byDefinition);
  const name = contentHash({ settings, cellTexts: context.cellTexts ?? {} });
  const before = byDefinition.get(name);
  if (before) return before;

  const groups = modeGroups(data, definition.scope);
  if (groups.length === 0) {
    const { item, mode, toolType } = definition.scope;
    throw new AnalysisError("no-lives", { item, mode, tool_type: toolType });
  }
  report(0, "what the audit doubts");
  const notes = cellNotes(data.records, context);
  const screen = screenPractices(groups, data, definition, buildReader(data.records, notes), (share, doing) =>
    report(0.05 + 0.85 * share, doing),
  );
  report(0.92, "lots");
  const { lots, tested } = watchLots(screen.tables, data);
  const done = { screen, lots, lotsTested: tested, notes };
  byDefinition.set(name, done);
  return done;
}

const unitRules: readonly AuditRule[] = ["torque unit suspect"];

/** A value in a doubtful unit says nothing of the practice until somebody settles it. */
function cellNotes(records: Records, { answers = [], cellTexts = {} }: StudyContext): CellNotes {
  const doubted = openDoubts(records, answers)
    .filter(({ rule, column }) => unitRules.includes(rule) && column !== null)
    .map(({ row, column }) => cellName(row.table, row.key, column ?? ""));
  return { texts: new Map(Object.entries(cellTexts)), doubted: new Set(doubted) };
}

function focusOf(screen: Screen, { focus }: StudyDefinition): ScreenedContrast | null {
  if (focus === undefined) return screen.contrasts[0] ?? null;
  const found = screen.contrasts.find(({ comparison }) => isSame(comparison, focus));
  if (!found) throw new AnalysisError("practice-not-found", { ...focus });
  return found;
}

const isSame = (a: PracticeChoice, b: PracticeChoice): boolean =>
  a.practice === b.practice && a.level === b.level && a.item === b.item && a.mode === b.mode;
