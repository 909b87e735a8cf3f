import { describe, expect, test } from "vitest";
import {
  emptyDraft,
  type FindingDraft,
  findingRows,
  sayMissing,
  scopeOf,
  sound,
  withCondition,
  withItem,
  without,
  withSeverity,
} from "../../../../web/state/findingDraft.ts";

const taps = (...steps: readonly ((draft: FindingDraft) => FindingDraft)[]) =>
  steps.reduce((draft, step) => step(draft), emptyDraft);
const item = (name: string) => (draft: FindingDraft) => withItem(draft, name);
const condition = (name: string) => (draft: FindingDraft) => withCondition(draft, name);
const severity = (level: number) => (draft: FindingDraft) => withSeverity(draft, level);
const rows = (draft: FindingDraft) => findingRows("T1", draft);

describe("a finding by taps", () => {
  test("item, mode and severity make a finding, with no tap to take it up", () => {
    expect(rows(taps(item("main seal"), condition("extrusion")))).toEqual([]);
    expect(rows(taps(item("main seal"), condition("extrusion"), severity(3)))).toEqual([
      { teardown: "T1", item: "main seal", condition: "extrusion", severity: 3 },
    ]);
  });

  test("severity may be tapped before the mode, and once more to put it right", () => {
    expect(rows(taps(item("J1"), severity(4), condition("back-off")))).toHaveLength(1);
    expect(rows(taps(item("J1"), condition("back-off"), severity(4), severity(2)))).toMatchObject([{ severity: 2 }]);
  });

  test("a severity belongs to one mode: the next mode of the item asks for its own", () => {
    const draft = taps(item("J1"), condition("back-off"), severity(4), condition("galling"));
    expect(rows(draft)).toHaveLength(1);
    expect(sayMissing(draft)).toBe("How bad is the galling on J1?");
    expect(rows(withSeverity(draft, 1))).toMatchObject([
      { condition: "back-off" },
      { condition: "galling", severity: 1 },
    ]);
  });

  test("sound takes two taps, has no severity, and is not both sound and failed", () => {
    const draft = taps(item("J1"), condition("back-off"), severity(4), condition(sound));
    expect(rows(draft)).toEqual([{ teardown: "T1", item: "J1", condition: "sound" }]);
    expect(rows(withSeverity(withCondition(draft, "galling"), 3))).toMatchObject([{ condition: "galling" }]);
  });

  test("a finding taken out is gone; what is missing is then said", () => {
    const draft = taps(item("J1"), condition(sound));
    const [found] = draft.findings;
    if (found === undefined) throw new Error("sound is a finding");
    expect(sayMissing(draft)).toBeNull();
    expect(sayMissing(without(draft, found))).toBe("Choose an item, or say that everything is sound.");
  });

  test("an item in hand without a condition holds the store back, so that no tap is lost", () => {
    const draft = taps(item("J1"), condition(sound), item("J2"));
    expect(sayMissing(draft)).toBe("What was found on J2?");
  });

  test("the rest sound is the whole checklist as scope, beside what it covered before; it writes no rows", () => {
    const draft = { ...emptyDraft, restSound: true };
    expect(sayMissing(draft)).toBeNull();
    expect(rows(draft)).toEqual([]);
    expect(scopeOf(["J9"], ["J1", "J2"], draft)).toEqual(["J9", "J1", "J2"]);
    expect(scopeOf(["J9"], ["J1", "J2"], emptyDraft)).toEqual(["J9"]);
  });
});
