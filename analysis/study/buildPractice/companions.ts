import type { BuildFacts, Fact } from "../../practice/explain/buildFacts.ts";
import { type Practice, practices } from "../../practice/explain/practices.ts";
import type { Companion } from "../../practice/screen/whatElseDiffered.ts";
import type { ModeRow } from "./modeTable.ts";

/** A blank that means "none" is a name like any other; what is missing otherwise has no value. */
export function writtenValue(practice: Practice, fact: Fact | undefined): number | string | null {
  if (fact === undefined) return null;
  if ("value" in fact) return fact.value;
  return practice.blankMeansNone && fact.missing === "not written" ? "none" : null;
}

/**
 * What differed along with a practice, what must be held first standing first: where it sat, who built it, for whom and in
 * what wells it ran, when it was built, and what else was done to it.
 */
export function companionsOf(practice: Practice, rows: readonly ModeRow[]): Companion[] {
  const of = (what: string, read: (row: ModeRow) => number | string | null): Companion => ({
    what,
    values: rows.map(read),
  });
  const muds = [...new Set(rows.flatMap(({ conditions }) => Object.keys(conditions.mud)))].sort();
  const year = 365.25 * 86_400_000;
  const built = ({ facts }: ModeRow) => Date.parse(facts.builtOn) / year;
  return [
    of("item", ({ life }) => `${life.toolType} ${life.item}`),
    of("size", ({ life }) => (life.sizeIn === null ? null : `${life.sizeIn} in`)),
    of("technician", ({ facts }) => facts.technician),
    of("temperature", ({ conditions }) => conditions.temperatureC),
    of("vibration", ({ conditions }) => conditions.vibration),
    of("customer", ({ customer }) => customer),
    of("date of build", built),
    of("differential pressure", ({ conditions }) => conditions.differentialPressureMPa),
    ...muds.slice(1).map((mud) => of(`mud: ${mud}`, ({ conditions }) => conditions.mud[mud] ?? 0)),
    ...otherPractices(practice, rows),
    of("season", (row) => Math.cos(2 * Math.PI * built(row))),
    of("season, a quarter later", (row) => Math.sin(2 * Math.PI * built(row))),
  ];
}

function otherPractices(practice: Practice, rows: readonly ModeRow[]): Companion[] {
  return practices
    .filter(({ id }) => id !== practice.id && !practice.sameCells.includes(id) && !isVersionOf(id))
    .map((other) => ({
      what: other.title,
      values: rows.map(({ facts }: { readonly facts: BuildFacts }) => writtenValue(other, facts.practices[other.id])),
    }))
    .filter(({ values }) => values.some((value) => value !== null));
}

/** Corrected torque is torque and compound again: it stands in for nothing. */
const isVersionOf = (id: Practice["id"]): boolean => id === "corrected torque";
