import type { Life } from "../../lives/types.ts";
import type { BuildFacts } from "../../practice/explain/buildFacts.ts";
import { selectedConfidence } from "../../practice/screen/selectedConfidence.ts";
import { verdictOf } from "../../practice/screen/verdict.ts";
import type { ShopData } from "../shopData.ts";
import type { StudyDefinition } from "../types.ts";
import type { ModeLives, ModeTable } from "./modeTable.ts";
import { type TestedContrast, type TestedScreen, testPractices } from "./testPractices.ts";
import type { PracticeComparison, Side } from "./types.ts";

export interface ScreenedContrast extends TestedContrast {
  readonly comparison: PracticeComparison;
}

export interface Screen extends Omit<TestedScreen, "contrasts"> {
  /** Claims first, by p-value; then what cannot be told; then the rest. */
  readonly contrasts: readonly ScreenedContrast[];
}

/**
 * Every practice against every mode, tested over the whole screen, with bounds.
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
  const { tables, contrasts, tested, claims } = testPractices(groups, data, definition, factsOf, (share, doing) =>
    report(0.7 * share, doing),
  );
  const { confidence } = definition;
  const described = contrasts.map((one, index): ScreenedContrast => {
    report(0.7 + (0.3 * index) / contrasts.length, `bounds, ${one.table.item}, ${one.table.mode}`);
    const selectedAt = one.isClaim ? selectedConfidence(confidence, claims, tested) : null;
    return { ...one, comparison: describe(one, { confidence, selectedAt }) };
  });
  return { tables, contrasts: described.sort(inOrder), tested, claims };
}

function describe(
  { table, contrast, compared, screenedPValue }: TestedContrast,
  { confidence, selectedAt }: { readonly confidence: number; readonly selectedAt: number | null },
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
