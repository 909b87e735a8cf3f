// A statement of a simulated fleet with everything that goes wrong: counts that add up, figures that are those of the studies,
// no name that should be masked, the same content when made again.
import { beforeAll, describe, expect, test } from "vitest";
import {
  contentHash,
  defaultStatement,
  defaultStudy,
  type Figure,
  type ItemLifeResult,
  isFigure,
  namesOf,
  plainText,
  type Records,
  runStatement,
  runStudy,
  type StatementDefinition,
  type StatementDocument,
  type StatementResult,
  statementDocument,
} from "../../../analysis/index.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { aliasesFor, shopOf, spells, statementOf } from "../../support/statementShop.ts";

const fleet = simulateFleet({ ...defaultFleet, serials: 12, seed: 21, to: "2024-12-31" });
const records: Records = fleet.recorded;
const customer = (records.runs ?? []).find((run) => run.customer != null)?.customer ?? "";
const failedRun = (records.runs ?? []).find(
  (run) => run.customer === customer && run.pulled_because === "tool failure",
);
const context = {
  dataHash: "simulated",
  statements: ["A rebuild by tech 1 in run_log.csv renews the main seal."],
  sample: true,
};
const aliases = { ...aliasesFor(records), file: { "run_log.csv": "file A" } };
const definition: StatementDefinition = {
  ...defaultStatement({ customer }),
  change: {
    what: `new ring fitted by ${records.redresses?.[0]?.technician ?? ""}`,
    on: "2024-01-01",
    countedFrom: null,
    appliesTo: "builds",
  },
  incidentRun: failedRun?.run ?? null,
  actions: [
    {
      what: `Check ${records.tools?.[0]?.serial ?? ""} again`,
      item: "main seal",
      mode: null,
      state: "open",
      on: "2025-02-01",
    },
  ],
};
let statement: StatementResult;
let document: StatementDocument;

beforeAll(() => {
  statement = runStatement(definition, records, context, { aliases });
  document = statementDocument(statement);
}, 120_000);

const sentencesOf = ({ summary, sections }: StatementDocument) => [
  ...summary,
  ...sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) =>
      block.kind === "paragraph" ? [block.text] : block.kind === "list" || block.kind === "caution" ? block.items : [],
    ),
  ),
];

describe("what it counts", () => {
  test("runs counted and not counted are every run row of the scope", () => {
    const { runs } = statement.exclusions;
    expect(runs.whole).toBe((records.runs ?? []).filter((run) => run.customer === customer).length);
    expect(runs.parts.reduce((sum, { count }) => sum + count, 0)).toBe(runs.whole);
    const counted = runs.parts
      .filter(({ what }) => what.startsWith("counted"))
      .reduce((sum, { count }) => sum + count, 0);
    expect(counted).toBe(statement.population.runs);
  });

  test("lives followed, waiting and excluded are every restoration begun with the customer", () => {
    const { lives } = statement.exclusions;
    expect(lives.parts.reduce((sum, { count }) => sum + count, 0)).toBe(lives.whole);
    for (const { item, mode, toolType, life } of statement.modes) {
      if (life === null) continue;
      const again = runStudy(
        defaultStudy("item life", { customer, toolType, item, mode }),
        records,
        context,
      ) as ItemLifeResult;
      expect(life.counts).toMatchObject({
        lives: again.counts.lives,
        failures: again.counts.failures,
        excluded: again.counts.excluded,
      });
    }
  });

  test("rates are those of the study that anybody can ask, and runs by tool add up to all", () => {
    const rates = runStudy(defaultStudy("what fails", { customer }), records, context);
    if (rates.kind !== "what fails") throw new Error(rates.kind);
    expect(statement.toolFailureRate).toEqual(rates.toolFailureRate);
    expect(statement.modes.map(({ rate, failures }) => ({ rate, failures }))).toEqual(
      rates.modes.map(({ rate, failures }) => ({ rate, failures })),
    );
    const { failureFree } = statement;
    expect(failureFree.bySerial.reduce((sum, { runs }) => sum + runs, 0)).toBe(failureFree.runs);
    expect(failureFree.runs - failureFree.free).toBe(statement.toolFailures);
  });

  test("causes determined and not yet determined are all failures of a mode", () => {
    for (const { causes, failures } of statement.modes) {
      expect(causes.notDetermined + causes.known.reduce((sum, { count }) => sum + count, 0)).toBe(failures);
    }
  });
});

describe("what it says", () => {
  test("every figure of a sentence is a number of the statement, with the result it comes from", () => {
    const figures = sentencesOf(document).flatMap((text) =>
      text.filter((part): part is Figure => typeof part !== "string" && isFigure(part)),
    );
    expect(figures.length).toBeGreaterThan(25);
    const numbers = new Set<number>();
    const walk = (value: unknown): void => {
      if (typeof value === "number") numbers.add(value);
      else if (value !== null && typeof value === "object") Object.values(value).forEach(walk);
    };
    walk(statement);
    const derived = (figure: Figure) =>
      statement.modes.reduce((sum, { causes }) => sum + causes.notDetermined, 0) === figure.value;
    for (const figure of figures) {
      expect(figure.result).toMatch(/^[0-9a-f]{12}$/);
      if (figure.value !== null)
        expect(numbers.has(figure.value) || derived(figure), `${figure.text} ${figure.value}`).toBe(true);
    }
  });

  test("no sentence has a gap in it", () => {
    for (const text of sentencesOf(document).map(plainText)) {
      expect(text).not.toMatch(/undefined|NaN|Infinity|null|\[object|\$\{/);
      expect(text.trim()).toMatch(/[.)]$/);
    }
  });

  test("sections have their own addresses, tables as many cells as columns", () => {
    const ids = document.sections.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const block of document.sections.flatMap(({ blocks }) => blocks)) {
      if (block.kind === "table")
        for (const row of block.rows) expect(row, block.title).toHaveLength(block.columns.length);
    }
  });

  test("the incident names its findings, how rare they are, and the cause or that it is not known", () => {
    const incident = document.sections.find(({ id }) => id === "incident");
    const text = incident?.blocks
      .flatMap((block) =>
        block.kind === "paragraph" ? [plainText(block.text)] : block.kind === "list" ? block.items.map(plainText) : [],
      )
      .join(" ");
    expect(text).toContain("came in on");
    expect(statement.incident?.findings.length === 0 || text?.includes("Cause:")).toBe(true);
  });

  test("a mean time stands nowhere unless it was asked for and carried", () => {
    expect(sentencesOf(document).map(plainText).join(" ")).not.toMatch(/mean time between failures \d/i);
  });
});

describe("masking", () => {
  const leaks = (text: string, allowed: readonly string[] = []): string[] =>
    Object.values({ ...namesOf(records), file: ["run_log.csv"] })
      .flat()
      .filter((name) => name.length > 2 && !allowed.includes(name) && text.includes(name));

  test("no serial, well, rig, crew, technician, lot, record, file or other customer stands anywhere in it", () => {
    expect(leaks(JSON.stringify(statement), [customer])).toEqual([]);
    expect(leaks(JSON.stringify(document), [customer])).toEqual([]);
  });

  test("unmasked, tools have their names, but no other customer has", () => {
    const open = runStatement(
      { ...definition, masked: false, scope: { ...definition.scope, customer: null }, incidentRun: null, change: null },
      records,
      context,
      { aliases },
    );
    const text = JSON.stringify(open);
    expect(text).toContain(records.tools?.[0]?.serial ?? "-");
    for (const name of namesOf(records).customer) expect(text).not.toContain(name);
  }, 120_000);

  test("a name without an alias is refused, not printed", () => {
    const shop = shopOf(spells(10, { nth: 4 }));
    expect(() => runStatement(defaultStatement(), shop, context, { aliases: {} })).toThrow(/alias-missing/);
  });

  test("names inside texts that people wrote are whole words, the longest first", () => {
    const shop = shopOf(
      [...spells(10, { nth: 4 })].map((one, index) => ({
        ...one,
        cause: index === 3 ? "LOT-77 was soft; LOT-770 was not" : "",
      })),
    );
    const [mode] = statementOf(shop).modes;
    expect(mode?.causes.known.map(({ cause }) => cause)).toContain("lot A0 was soft; LOT-770 was not");
  });
});

describe("made again", () => {
  test("the same records and settings give the same content hash; another setting gives another", () => {
    const shop = shopOf(spells(20, { nth: 4 }));
    expect(statementOf(shop).contentHash).toBe(statementOf(structuredClone(shop)).contentHash);
    expect(statementOf(shop, { runHours: 80 }).contentHash).not.toBe(statementOf(shop).contentHash);
  });

  test("the content hash is that of everything else in it, after a trip through JSON too", () => {
    const { contentHash: hash, ...rest } = JSON.parse(JSON.stringify(statement)) as StatementResult;
    expect(contentHash(rest)).toBe(hash);
  });
});

describe("bad settings", () => {
  const shop = shopOf(spells(10, { nth: 4 }));
  test.each([
    [{ kind: "before and after" } as const, /change/],
    [{ kind: "incident" } as const, /run of the incident/],
    [{ runHours: -4 }, /run hours/],
    [{ confidence: 1 }, /confidence/],
    [{ change: { what: "x", on: "2024-13-01", countedFrom: null, appliesTo: "runs" } as const }, /bad-date/],
    [
      { change: { what: "x", on: "2024-03-01", countedFrom: "2024-02-01", appliesTo: "runs" } as const },
      /first day counted as after/,
    ],
    [{ incidentRun: "no such run" }, /run-not-found/],
  ])("%j is refused, naming what is wrong", (more, message) => {
    expect(() => statementOf(shop, more)).toThrow(message);
  });

  test("a scope without a run claims nothing", () => {
    const empty = statementDocument(statementOf(shop, { scope: { ...defaultStatement().scope, from: "2030-01-01" } }));
    expect(sentencesOf(empty).map(plainText).join(" ")).toContain(
      "No run is counted in this scope, so nothing is claimed.",
    );
  });
});
