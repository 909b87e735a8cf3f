import type { Life } from "../../lives/types.ts";
import { adjustPValues } from "../../practice/comparisons/adjustPValues.ts";
import type { BuildFacts } from "../../practice/explain/buildFacts.ts";
import { selectedConfidence } from "../../practice/screen/selectedConfidence.ts";
import { verdictOf } from "../../practice/screen/verdict.ts";
import type { ShopData } from "../shopData.ts";
import type { StudyDefinition } from "../types.ts";
import { type Compared, comparePractice, isTested } from "./comparePractice.ts";
import { type Contrast, contrastsOf } from "./contrasts.ts";
import { type ModeLives, type ModeTable, modeTable } from "./modeTable.ts";
import type { PracticeComparison, Side } from "./types.ts";

/** Share of claims that may be false on average; with no effect anywhere, the chance of any claim at all. */
export const FALSE_DISCOVERY_RATE = 0.05;

export interface ScreenedContrast {
  readonly table: ModeTable;
  readonly contrast: Contrast;
  readonly compared: Compared;
  readonly comparison: PracticeComparison;
}

export interface Screen {
  readonly tables: readonly ModeTable[];
  /** Claims first, by p-value; then what cannot be told; then the rest. */
  readonly contrasts: readonly ScreenedContrast[];
  readonly tested: number;
  readonly claims: number;
}

/**
 * Every practice against every mode, tested over the whole screen.
 *
 * @param report  Told the share done, 0 to 1, and what is being compared.
 */
export function screenPractices(
  groups: readonly ModeLives[],
  data: ShopData,
  definition: StudyDefinition,
  factsOf: (life: Life) => BuildFacts,
  report: (share: number, doing: string) => void = () => undefined,
): Screen {
  const tables = groups
    .map((group) => modeTable(group, groups, data, definition, factsOf))
    .filter(({ failures }) => failures > 0);
  const asked = tables.flatMap((table) => contrastsOf(table).map((contrast) => ({ table, contrast })));
  const compared = asked.map(({ table, contrast }, index) => {
    report((0.9 * index) / asked.length, `${table.item}, ${table.mode}: ${contrast.practice.title}`);
    return { table, contrast, compared: comparePractice(table, contrast) };
  });
  const tested = compared.filter((one) => isTested(one.compared));
  const adjusted = adjustPValues(
    tested.map((one) => one.compared.adjusted!.pValue),
    "benjamini-hochberg",
  );
  const claimed = adjusted.map((pValue) => pValue <= FALSE_DISCOVERY_RATE);
  const claims = claimed.filter(Boolean).length;
  const { confidence } = definition;
  const contrasts = compared.map((one, index) => {
    report(0.9 + (0.1 * index) / compared.length, "bounds");
    const place = tested.indexOf(one);
    const isClaimed = place >= 0 && claimed[place]!;
    const comparison = describe(one, {
      confidence,
      screenedPValue: place < 0 ? null : adjusted[place]!,
      selectedAt: isClaimed ? selectedConfidence(confidence, claims, tested.length) : null,
    });
    return { ...one, comparison };
  });
  return { tables, contrasts: contrasts.sort(inOrder), tested: tested.length, claims };
}

function describe(
  { table, contrast, compared }: Omit<ScreenedContrast, "comparison">,
  {
    confidence,
    screenedPValue,
    selectedAt,
  }: { readonly confidence: number; readonly screenedPValue: number | null; readonly selectedAt: number | null },
): PracticeComparison {
  const { practice, level, at, against, rows, values, applies } = contrast;
  const middle = (at + against) / 2;
  const isWith = (value: number) => (at > against ? value > middle : value < middle);
  const missing = (why: "not written" | "written as text" | "in doubt"): Side =>
    sideOf(
      table,
      applies.filter((row) => {
        const fact = table.rows[row]!.facts.practices[practice.id];
        return fact !== undefined && !rows.includes(row) && "missing" in fact && fact.missing === why;
      }),
    );
  return {
    practice: practice.id,
    level,
    item: table.item,
    mode: table.mode,
    items: table.items,
    title: practice.title,
    unit: practice.unit,
    at: practice.kind === "number" ? at : null,
    against: practice.kind === "number" ? against : null,
    leadsTo: table.leadsTo,
    lives: rows.length,
    failures: compared.failures,
    serials: compared.serials,
    with: sideOf(
      table,
      rows.filter((_, place) => isWith(values[place]!)),
    ),
    without: sideOf(
      table,
      rows.filter((_, place) => !isWith(values[place]!)),
    ),
    notWritten: missing("not written"),
    writtenAsText: missing("written as text"),
    inDoubt: missing("in doubt"),
    unadjusted: compared.unadjusted?.at(confidence) ?? null,
    adjusted: compared.adjusted?.at(confidence) ?? null,
    screenedPValue,
    selected: selectedAt === null ? null : (compared.adjusted?.at(selectedAt) ?? null),
    verdict: verdictOf({
      failures: compared.failures,
      shareLeft: compared.entanglement.shareLeft,
      value: compared.adjusted?.value ?? null,
      claimed: selectedAt !== null,
    }),
    shareLeft: compared.entanglement.shareLeft,
    goesAlongWith: compared.entanglement.explained.filter(({ share }) => share >= 0.05),
  };
}

const sideOf = (table: ModeTable, rows: readonly number[]): Side => ({
  lives: rows.length,
  failures: rows.filter((row) => table.rows[row]!.failed).length,
});

const ranks: Readonly<Record<PracticeComparison["verdict"], number>> = {
  "shorter life": 0,
  "longer life": 0,
  "cannot tell": 1,
  "no difference shown yet": 2,
  "too few failures": 3,
};

function inOrder({ comparison: a }: ScreenedContrast, { comparison: b }: ScreenedContrast): number {
  const weight = (one: PracticeComparison) => one.adjusted?.pValue ?? one.unadjusted?.pValue ?? 1;
  return ranks[a.verdict] - ranks[b.verdict] || weight(a) - weight(b);
}
