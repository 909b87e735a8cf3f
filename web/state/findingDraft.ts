/** What was found at a teardown table, as it is put together by taps. Pure. */
import type { Row } from "../../analysis/index.ts";

type Finding = Row<"findings">;

/** One finding that is complete: sound, or a mode with its severity. */
export interface DraftFinding {
  readonly item: string;
  readonly condition: string;
  readonly severity: number | null;
  /** What else was written about it, by field. */
  readonly more: Readonly<Record<string, unknown>>;
}

/** The finding in hand: each part is chosen by one tap, in any order. */
export interface InHand {
  readonly item: string | null;
  readonly condition: string | null;
  readonly severity: number | null;
}

export interface FindingDraft {
  readonly inHand: InHand;
  readonly findings: readonly DraftFinding[];
  /** Everything else the checklist covers was looked at and is sound: the teardown's scope. */
  readonly restSound: boolean;
}

export const sound = "sound";
const nothingInHand: InHand = { item: null, condition: null, severity: null };
export const emptyDraft: FindingDraft = { inHand: nothingInHand, findings: [], restSound: false };

export const isFinding = (found: DraftFinding, { item, condition }: Pick<InHand, "item" | "condition">): boolean =>
  found.item === item && found.condition === condition;

/** Another item: what was said of the one before stays. */
export const withItem = (draft: FindingDraft, item: string): FindingDraft => ({
  ...draft,
  inHand: { ...nothingInHand, item },
});

/**
 * Another condition of the item in hand. "Sound" needs nothing more and takes back what was said against it; a mode takes
 * back "sound" and waits for its severity.
 */
export function withCondition(draft: FindingDraft, condition: string): FindingDraft {
  const { item } = draft.inHand;
  const known = draft.findings.find((found) => isFinding(found, { item, condition }));
  const others = draft.findings.filter(
    (found) => found.item !== item || (condition !== sound && found.condition !== sound),
  );
  // A severity that was tapped before the mode belongs to it.
  const tapped = draft.inHand.condition === null ? draft.inHand.severity : null;
  const severity = condition === sound ? null : (known?.severity ?? tapped);
  return settled({ ...draft, inHand: { item, condition, severity }, findings: others });
}

export const withSeverity = (draft: FindingDraft, severity: number): FindingDraft =>
  settled({ ...draft, inHand: { ...draft.inHand, severity } });

/** What else is written about the finding in hand. */
export const withMore = (draft: FindingDraft, field: string, value: unknown): FindingDraft => ({
  ...draft,
  findings: draft.findings.map((found) =>
    isFinding(found, draft.inHand) ? { ...found, more: { ...found.more, [field]: value } } : found,
  ),
});

export function without(draft: FindingDraft, gone: DraftFinding): FindingDraft {
  const findings = draft.findings.filter((found) => found !== gone);
  return { ...draft, findings, inHand: isFinding(gone, draft.inHand) ? nothingInHand : draft.inHand };
}

/** Takes a finding up once nothing of it is missing. */
function settled(draft: FindingDraft): FindingDraft {
  const { item, condition, severity } = draft.inHand;
  if (item === null || condition === null || (severity === null && condition !== sound)) return draft;
  const known = draft.findings.find((found) => isFinding(found, draft.inHand));
  const found: DraftFinding = { item, condition, severity, more: known?.more ?? {} };
  const findings =
    known === undefined ? [...draft.findings, found] : draft.findings.map((each) => (each === known ? found : each));
  return { ...draft, findings };
}

/** What is missing before it can be stored, in words; null where nothing is. */
export function sayMissing({ inHand, findings, restSound }: FindingDraft): string | null {
  const { item, condition, severity } = inHand;
  if (item !== null && condition === null && !findings.some((found) => found.item === item))
    return `What was found on ${item}?`;
  if (item !== null && condition !== null && condition !== sound && severity === null)
    return `How bad is the ${condition} on ${item}?`;
  if (findings.length === 0 && !restSound) return "Choose an item, or say that everything is sound.";
  return null;
}

/** The findings as rows of a teardown; `sound` by scope needs no rows. */
export const findingRows = (teardown: string, { findings }: FindingDraft): readonly Finding[] =>
  findings.map(({ item, condition, severity, more }) => ({
    teardown,
    item,
    condition,
    ...(severity === null ? {} : { severity }),
    ...more,
  }));

/** Items the teardown covered: what it covered before, and the whole list where the rest is sound. */
export const scopeOf = (
  before: readonly string[],
  items: readonly string[],
  { restSound }: FindingDraft,
): readonly string[] => (restSound ? [...new Set([...before, ...items])] : before);
