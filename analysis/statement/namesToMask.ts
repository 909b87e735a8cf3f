import type { Records } from "../records/descriptor.ts";
import type { Aliases, MaskedKind } from "./types.ts";

export interface NamesToMask {
  isMasked(kind: MaskedKind, name: string): boolean;
  /** Every name that stands whole in a text, by its alias; names of one character are left, they may be words. */
  maskText(text: string): string;
}

/** All names of the shop's records, by kind. */
export function namesOf(records: Records): Readonly<Record<Exclude<MaskedKind, "file">, readonly string[]>> {
  const distinct = (values: readonly (string | null | undefined)[]): readonly string[] =>
    [...new Set(values.flatMap((one) => (one == null || one.trim() === "" ? [] : [one])))].sort();
  const { runs = [], tools = [], redresses = [], teardowns = [], fitted_items: fitted = [] } = records;
  return {
    tool: distinct([...tools, ...runs, ...redresses, ...teardowns].map(({ serial }) => serial)),
    well: distinct(runs.map(({ well }) => well)),
    rig: distinct(runs.map(({ rig }) => rig)),
    crew: distinct(runs.map(({ crew }) => crew)),
    technician: distinct([...redresses, ...teardowns].map(({ technician }) => technician)),
    lot: distinct(fitted.map(({ lot }) => lot)),
    customer: distinct(runs.map(({ customer }) => customer)),
    record: distinct([
      ...runs.map(({ run }) => run),
      ...redresses.map(({ redress }) => redress),
      ...teardowns.map(({ teardown }) => teardown),
      ...fitted.map(({ item_serial }) => item_serial),
    ]),
  };
}

/** What a statement may not name: everything where it is masked, the other customers always. */
export function namesToMask(
  records: Records,
  aliases: Aliases,
  { everything, customer }: { readonly everything: boolean; readonly customer: string | null },
): NamesToMask {
  const names = namesOf(records);
  const isMasked = (kind: MaskedKind, name: string): boolean => (kind === "customer" ? name !== customer : everything);
  const written = new Map<string, string>();
  for (const [kind, list] of [...Object.entries(names), ["file", Object.keys(aliases.file ?? {})]] as [
    MaskedKind,
    readonly string[],
  ][]) {
    for (const name of list) {
      const alias = aliases[kind]?.[name];
      if (isMasked(kind, name) && name.trim().length > 1 && alias !== undefined) written.set(name, alias);
    }
  }
  // The longest first, so that "W-12" is not taken out of "W-123".
  const ordered = [...written.keys()].sort((a, b) => b.length - a.length);
  return {
    isMasked,
    maskText: (text) =>
      ordered.reduce(
        (masked, name) => (masked.includes(name) ? replaceWhole(masked, name, written.get(name) ?? "") : masked),
        text,
      ),
  };
}

function replaceWhole(text: string, name: string, alias: string): string {
  const letter = /[\p{L}\p{N}]/u;
  let out = "";
  let from = 0;
  for (let at = text.indexOf(name); at !== -1; at = text.indexOf(name, from)) {
    const end = at + name.length;
    const whole = !letter.test(text[at - 1] ?? "") && !letter.test(text[end] ?? "");
    out += text.slice(from, at) + (whole ? alias : name);
    from = end;
  }
  return out + text.slice(from);
}
