import { expect, test } from "vitest";
import type { ScopeChoices } from "../../../../analysis/index.ts";
import { wholeFleet } from "../../../../web/state/place.ts";
import { itemOptions, modeOptions, scopeAfter, sizeOptions } from "../../../../web/state/scopeOptions.ts";

const choices: ScopeChoices = {
  toolTypes: [
    {
      toolType: "damper",
      sizesIn: [6.5, 4.75],
      items: [
        { item: "J1", kind: "joint", position: 2, modes: ["galling", "back-off"] },
        { item: "main seal", kind: "seal", position: 1, modes: ["leak"] },
      ],
    },
    {
      toolType: "valve",
      sizesIn: [8],
      items: [{ item: "J1", kind: "joint", position: null, modes: ["shoulder leak"] }],
    },
  ],
  customers: [],
  firstDate: null,
  lastDate: null,
  serials: [],
};

test("items come once, in the order of the tool, with every mode of their name", () => {
  expect(itemOptions(choices, null)).toEqual([
    { item: "main seal", modes: ["leak"] },
    { item: "J1", modes: ["galling", "back-off", "shoulder leak"] },
  ]);
});

test("modes follow tool type and item", () => {
  expect(modeOptions(choices, { toolType: "damper", item: "J1" })).toEqual(["back-off", "galling"]);
  expect(modeOptions(choices, { toolType: null, item: null })).toEqual([
    "back-off",
    "galling",
    "leak",
    "shoulder leak",
  ]);
});

test("sizes ascend and follow the tool type", () => {
  expect(sizeOptions(choices, null)).toEqual([4.75, 6.5, 8]);
  expect(sizeOptions(choices, "valve")).toEqual([8]);
});

test("a choice that does not exist under a new tool type falls away, the rest stays", () => {
  const scope = { ...wholeFleet, toolType: "damper", sizeIn: 6.5, item: "J1", mode: "galling", from: "2024-01-01" };
  expect(scopeAfter(choices, scope, { toolType: "valve" })).toEqual({
    ...wholeFleet,
    toolType: "valve",
    item: "J1",
    from: "2024-01-01",
  });
});
