import {
  type Aliases,
  defaultStatement,
  namesOf,
  type Records,
  runStatement,
  type StatementDefinition,
  type StatementResult,
} from "../../analysis/index.ts";
import { smallShop } from "./smallShop.ts";

type Runs = NonNullable<Records["runs"]>;

/** One build of one tool, a run of some hours, and a teardown of it. */
export interface Spell {
  readonly serial: string;
  readonly on: string;
  readonly hours: number;
  /** The main seal was found worn through. */
  readonly worn: boolean;
  readonly run?: Partial<Runs[number]>;
  /** Not torn down afterwards. */
  readonly unseen?: true;
  readonly why?: "planned" | "tool failure";
  readonly cause?: string;
}

/** An invented shop of main seals that wear, one build a spell, as `smallShop` but with everything chosen. */
export function shopOf(spells: readonly Spell[]): Records {
  const { tool_items, modes } = smallShop();
  const builds = spells.map((spell, index) => ({ ...spell, id: `B-${String(index + 1).padStart(4, "0")}` }));
  const serials = [...new Set(spells.map(({ serial }) => serial))].sort();
  return {
    ...(tool_items ? { tool_items } : {}),
    ...(modes ? { modes } : {}),
    tools: serials.map((serial) => ({
      serial,
      tool_type: "Quill",
      size_in: 4.75,
      entered_on: "2020-01-01",
      hours_at_entry: 0,
      status: "in shop",
    })),
    redresses: builds.map(({ id, serial, on }) => ({
      redress: id,
      serial,
      done_on: on,
      reason: "planned",
      technician: "T. Nobody",
    })),
    joints: builds.map(({ id }) => ({ redress: id, joint: "J1", new_thread: true })),
    fitted_items: builds.map(({ id }) => ({ redress: id, item: "main seal", renewed: true, lot: "LOT-77" })),
    runs: builds.map(({ id, serial, on, hours, worn, run }) => ({
      run: `RUN-${id}`,
      serial,
      out_on: later(on, 1),
      in_on: later(on, 3),
      hours,
      hours_kind: "circulating",
      customer: "Northern Example Drilling",
      well: `Well ${id}`,
      pulled_because: worn ? "tool failure" : "planned",
      ...run,
    })),
    teardowns: builds
      .filter(({ unseen }) => !unseen)
      .map(({ id, serial, on, worn, why }) => ({
        teardown: `LOOK-${id}`,
        serial,
        done_on: later(on, 4),
        why: why ?? (worn ? "tool failure" : "planned"),
        scope: ["main seal", "J1"],
        kind: "stripped",
      })),
    findings: builds
      .filter(({ unseen }) => !unseen)
      .map(({ id, worn, cause }) =>
        worn
          ? { teardown: `LOOK-${id}`, item: "main seal", condition: "wear", severity: 4, ...(cause ? { cause } : {}) }
          : { teardown: `LOOK-${id}`, item: "main seal", condition: "sound" },
      ),
  };
}

const later = (on: string, days: number): string =>
  new Date(Date.parse(on) + days * 86_400_000).toISOString().slice(0, 10);

/** `count` spells on tools in turn, one every `every` days from a day on; every `nth` one worn. */
export function spells(
  count: number,
  { from = "2024-01-02", every = 7, hours = 60, nth = 0, tools = 5, run = {} as Spell["run"], prefix = "QX-10" } = {},
): readonly Spell[] {
  const first = Date.parse(from);
  return Array.from(
    { length: count },
    (_, index): Spell => ({
      serial: `${prefix}${(index % tools) + 1}`,
      on: new Date(first + index * every * 86_400_000).toISOString().slice(0, 10),
      hours,
      worn: nth > 0 && index % nth === nth - 1,
      ...(run ? { run } : {}),
    }),
  );
}

export const context = { dataHash: "0123456789abcdef0123456789abcdef", statements: [], sample: false } as const;

/** Aliases as a shop would get them, told apart by number. */
export function aliasesFor(records: Records): Aliases {
  return Object.fromEntries(
    Object.entries(namesOf(records)).map(([kind, names]) => [
      kind,
      Object.fromEntries(
        names.map((name, index) => [name, `${kind} ${String.fromCharCode(65 + (index % 26))}${index}`]),
      ),
    ]),
  );
}

export function statementOf(
  records: Records,
  definition: Partial<StatementDefinition> = {},
  previous: Pick<StatementDefinition, "thresholds" | "hoursKind"> | null = null,
): StatementResult {
  return runStatement({ ...defaultStatement(), ...definition }, records, context, {
    aliases: aliasesFor(records),
    previous,
  });
}
