// Names inside texts that people wrote, the way they write them. All names are invented.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type MaskedName, textMasker } from "../../../analysis/statement/textMasker.ts";
import type { MaskedKind } from "../../../analysis/statement/types.ts";

const named = (kind: MaskedKind, name: string): MaskedName => ({ kind, name, alias: `<${kind}>` });
const masked = (text: string, ...names: readonly MaskedName[]): string => textMasker(names)(text);

describe("names with letters and figures", () => {
  const lot = named("lot", "LOT-77");
  test.each([
    ["LOT-77 was soft", "<lot> was soft"],
    ["lot-77 was soft", "<lot> was soft"],
    ["from lot 77, LOT77 and Lot_77.", "from <lot>, <lot> and <lot>."],
    ["LOT-770 and PLOT-77 were not", "LOT-770 and PLOT-77 were not"],
  ])("%s", (text, said) => expect(masked(text, lot)).toBe(said));

  test("the longest first, and an alias is never masked again", () => {
    const names = [named("well", "W-12"), named("well", "W-12/3"), { ...named("tool", "QX-1"), alias: "Tool W-12" }];
    expect(masked("QX-1 in W-12/3 and W-12", ...names)).toBe("Tool W-12 in <well> and <well>");
  });

  test("always as it is written, whatever stands between its parts", () => {
    const names = [named("well", "Alder #3"), named("rig", "R 1"), named("record", "7/[a]+b 2")];
    expect(masked("Alder #3, R 1 and 7/[a]+b 2", ...names)).toBe("<well>, <rig> and <record>");
  });

  test("a short one apart may be two words", () => {
    expect(masked("a 1 mm gap on A1", named("lot", "A1"))).toBe("a 1 mm gap on <lot>");
  });
});

describe("names of words", () => {
  test("several words in any case; one word as it is written", () => {
    const names = [named("customer", "Northern Example Drilling"), named("crew", "Day")];
    expect(masked("for NORTHERN  example drilling by Day, one day later", ...names)).toBe(
      "for <customer> by <crew>, one day later",
    );
  });

  test("the surname alone", () => {
    const names = [named("technician", "T. Nobody"), named("technician", "A. B. Example")];
    expect(masked("T. Nobody and Nobody; nobody else; Example", ...names)).toBe(
      "<technician> and <technician>; nobody else; <technician>",
    );
  });

  test("signs that mean something in a pattern are signs of the name", () => {
    expect(masked("rig (x+y)? and rig xy", named("rig", "(x+y)?"))).toBe("rig <rig> and rig xy");
  });
});

describe("names of one character", () => {
  test.each([
    ["crew", "A", "crew A fitted a ring; A ring was cut", "<crew> fitted a ring; A ring was cut"],
    ["crew", "B", "Shift: B, and B again; O-ring B-side", "<crew>, and <crew> again; O-ring B-side"],
    ["technician", "K", "built by K. Kept by k", "built by <technician>. Kept by k"],
    ["lot", "C", "lot C at 130 C and 130 °C", "<lot> at 130 C and 130 °C"],
    ["tool", "3", "tool 3 lost 3 seals", "<tool> lost 3 seals"],
    ["lot", "O", "O-ring of lot O", "O-ring of <lot>"],
    ["technician", "I", "by I, as I saw", "by <technician>, as I saw"],
  ] as const)("%s %s: %s", (kind, name, text, said) => expect(masked(text, named(kind, name))).toBe(said));
});

test("a text without names stays as it is", () => {
  expect(masked("ring cut at fitting", named("lot", "LOT-77"), named("crew", "A"))).toBe("ring cut at fitting");
});

test("whatever a name of two characters or more is made of, as it is written it is found", () => {
  fc.assert(
    fc.property(fc.string({ minLength: 2, maxLength: 12, unit: "grapheme" }), (name) => {
      fc.pre([...name.trim()].length > 1);
      expect(textMasker([{ kind: "lot", name, alias: "¤" }])(`( ${name.trim()} )`)).toBe("( ¤ )");
    }),
    { numRuns: 2_000 },
  );
});
