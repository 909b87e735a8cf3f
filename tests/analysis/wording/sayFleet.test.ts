// Golden sentences: today's wording, so that a change is noticed and read.
import { expect, test } from "vitest";
import { sayFleet } from "../../../analysis/index.ts";
import { fleetFixture } from "../../support/chartFixtures/decisions.ts";

const board = fleetFixture();

test("the run that carries most is looked for among the tools that could go out", () => {
  const due = board.tools.filter(({ reading }) => reading === "redress due");
  expect(due.length).toBeGreaterThan(0);
  const [, named = ""] = /Of those not due the next run of (\S+),/.exec(sayFleet(board)) ?? [];
  expect(board.tools.find(({ serial }) => serial === named)?.reading).not.toBe("redress due");
  const others = board.tools.filter(({ reading }) => reading !== "redress due");
  const highest = Math.max(...others.map(({ chance }) => chance.upper ?? -1));
  expect(others.find(({ serial }) => serial === named)?.chance.upper).toBe(highest);
});

test("where all are due, no run is named", () => {
  const said = sayFleet({ ...board, tools: board.tools.map((tool) => ({ ...tool, reading: "redress due" as const })) });
  expect(said).toBe(`Of ${board.tools.length} tools ${board.tools.length} are due for a redress.`);
});
