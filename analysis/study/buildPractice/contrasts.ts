import { quantileSorted } from "simple-statistics";
import { type Practice, practices } from "../../practice/explain/practices.ts";
import { writtenValue } from "./companions.ts";
import type { ModeTable } from "./modeTable.ts";

/** One thing to compare: a number at two values, or a name against all other names. */
export interface Contrast {
  readonly practice: Practice;
  readonly level: string | null;
  readonly at: number;
  readonly against: number;
  /** Rows that have a value, and the value as a number: itself, or 1 with the name. */
  readonly rows: readonly number[];
  readonly values: Float64Array;
  /** Rows to which the practice applies. */
  readonly applies: readonly number[];
}

/** A name that fewer lives than this have, or all but so few, is no side of a comparison. */
const FEWEST_ON_A_SIDE = 8;

/** Everything that can be compared for the lives of a mode. */
export function contrastsOf(table: ModeTable): Contrast[] {
  return practices
    .filter(({ on }) => on.includes(table.kind))
    .flatMap((practice) => {
      const applies = table.rows.flatMap(({ facts }, index) =>
        facts.practices[practice.id] === undefined ? [] : [index],
      );
      const valued = applies.flatMap((index) => {
        const value = writtenValue(practice, table.rows[index]!.facts.practices[practice.id]);
        return value === null ? [] : [{ index, value }];
      });
      return practice.kind === "number"
        ? numberContrast(practice, applies, valued)
        : nameContrasts(practice, applies, valued);
    });
}

type Valued = readonly { readonly index: number; readonly value: number | string }[];

function numberContrast(practice: Practice, applies: readonly number[], valued: Valued): Contrast[] {
  const numbers = valued.filter((one): one is { index: number; value: number } => typeof one.value === "number");
  const sorted = numbers.map(({ value }) => value).sort((a, b) => a - b);
  const [least, most] = [sorted[0], sorted.at(-1)];
  if (least === undefined || most === undefined || least === most) return [];
  const within = (value: number) => Math.min(most, Math.max(least, value));
  const [tenth, ninetieth] = [quantileSorted(sorted, 0.1), quantileSorted(sorted, 0.9)];
  const { at, against } = practice.contrast
    ? { at: within(practice.contrast.at), against: within(practice.contrast.against) }
    : tenth < ninetieth
      ? { at: tenth, against: ninetieth }
      : { at: least, against: most };
  if (at === against) return [];
  return [
    {
      practice,
      level: null,
      at,
      against,
      applies,
      rows: numbers.map(({ index }) => index),
      values: Float64Array.from(numbers, ({ value }) => value),
    },
  ];
}

function nameContrasts(practice: Practice, applies: readonly number[], valued: Valued): Contrast[] {
  const counts = new Map<string, number>();
  for (const { value } of valued) counts.set(String(value), (counts.get(String(value)) ?? 0) + 1);
  const names = [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([name]) => name);
  // Of two names one comparison says both; "none" is what the other is held against.
  const asked = names.length === 2 ? [names.find((name) => name !== "none" && name !== names[0]) ?? names[0]!] : names;
  return asked
    .filter((name) => {
      const held = counts.get(name) ?? 0;
      return held >= FEWEST_ON_A_SIDE && valued.length - held >= FEWEST_ON_A_SIDE;
    })
    .map((level) => ({
      practice,
      level,
      at: 1,
      against: 0,
      applies,
      rows: valued.map(({ index }) => index),
      values: Float64Array.from(valued, ({ value }) => (value === level ? 1 : 0)),
    }));
}
