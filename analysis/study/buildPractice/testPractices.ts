import type { Life } from "../../lives/types.ts";
import { adjustPValues } from "../../practice/comparisons/adjustPValues.ts";
import type { BuildFacts } from "../../practice/explain/buildFacts.ts";
import type { ShopData } from "../shopData.ts";
import type { StudyDefinition } from "../types.ts";
import { type Compared, comparePractice, isTested } from "./comparePractice.ts";
import { type Contrast, contrastsOf } from "./contrasts.ts";
import { type ModeLives, type ModeTable, modeTable } from "./modeTable.ts";

/** Share of claims that may be false on average; with no effect anywhere, the chance of any claim at all. */
export const FALSE_DISCOVERY_RATE = 0.05;

export interface TestedContrast {
  readonly table: ModeTable;
  readonly contrast: Contrast;
  readonly compared: Compared;
  /** Over the whole screen (Benjamini-Hochberg); null where it was not tested. */
  readonly screenedPValue: number | null;
  readonly isClaim: boolean;
}

export interface TestedScreen {
  readonly tables: readonly ModeTable[];
  readonly contrasts: readonly TestedContrast[];
  readonly tested: number;
  readonly claims: number;
}

/** Every practice against every mode in scope, tested together; bounds are drawn later, they take most of the time. */
export function testPractices(
  groups: readonly ModeLives[],
  data: ShopData,
  definition: StudyDefinition,
  factsOf: (life: Life) => BuildFacts,
  report: (share: number, doing: string) => void = () => undefined,
): TestedScreen {
  const { mode } = definition.scope;
  const tables = groups
    .filter((group) => mode === null || group.mode === mode)
    .map((group) => modeTable(group, groups, data, definition, factsOf))
    .filter(({ failures }) => failures > 0);
  const asked = tables.flatMap((table) => contrastsOf(table).map((contrast) => ({ table, contrast })));
  const all = asked.map(({ table, contrast }, index) => {
    report(index / asked.length, `${table.item}, ${table.mode}: ${contrast.practice.title}`);
    return { table, contrast, compared: comparePractice(table, contrast) };
  });
  const tested = all.filter(({ compared }) => isTested(compared));
  const pValues = adjustPValues(
    tested.map(({ compared }) => compared.adjusted!.pValue),
    "benjamini-hochberg",
  );
  const contrasts = all.map((one): TestedContrast => {
    const screenedPValue = pValues[tested.indexOf(one)] ?? null;
    return { ...one, screenedPValue, isClaim: screenedPValue !== null && screenedPValue <= FALSE_DISCOVERY_RATE };
  });
  return { tables, contrasts, tested: tested.length, claims: contrasts.filter(({ isClaim }) => isClaim).length };
}

/** P-value at which one more comparison stands out, or this one stays: the step of Benjamini-Hochberg that it stands on. */
export function standsOutAt({ tested, claims }: Pick<TestedScreen, "tested" | "claims">, isClaim: boolean): number {
  return (FALSE_DISCOVERY_RATE * (claims + (isClaim ? 0 : 1))) / Math.max(1, tested);
}
