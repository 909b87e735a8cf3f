import type { Records } from "../records/descriptor.ts";
import { type MaskedName, textMasker } from "./textMasker.ts";
import type { Aliases, MaskedKind } from "./types.ts";

export interface NamesToMask {
  isMasked(kind: MaskedKind, name: string): boolean;
  /** Every name that stands whole in a text, by its alias: see `textMasker`. */
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
  const isMasked = (kind: MaskedKind, name: string): boolean => (kind === "customer" ? name !== customer : everything);
  const named = [...Object.entries(namesOf(records)), ["file", Object.keys(aliases.file ?? {})] as const] as [
    MaskedKind,
    readonly string[],
  ][];
  const masked = named.flatMap(([kind, list]) =>
    list.flatMap((name): MaskedName[] => {
      const alias = aliases[kind]?.[name];
      return isMasked(kind, name) && alias !== undefined ? [{ kind, name, alias }] : [];
    }),
  );
  return { isMasked, maskText: textMasker(masked) };
}
