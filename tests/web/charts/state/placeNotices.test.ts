import { expect, test } from "vitest";
import type { Notice } from "../../../../analysis/index.ts";
import { noticesAt } from "../../../../web/state/placeNotices.ts";

test("every notice stands in exactly one place", () => {
  const codes: Notice["code"][] = [
    "few-failures",
    "sound-by-scope",
    "missing-hours-matter",
    "run-duplicate",
    "invented-data",
  ];
  const notices: Notice[] = codes.map((code) => ({ code, facts: {} }));
  const places = ["answer", "readings", "counts", "missing hours", "records"] as const;
  const placed = places.flatMap((place) => noticesAt(notices, place).map(({ code }) => code));
  expect([...placed].sort()).toEqual([...codes].sort());
  expect(noticesAt(notices, "records").map(({ code }) => code)).toEqual(["run-duplicate"]);
});
