/** "A rebuild here renews ...", answered item by item. */
import type { AddedRows, ColumnRule } from "./mapping.ts";

/** What the shop says of one item: renewed, carried over, as a column tells, or renewed on a new build only. */
export type Renewal = "renewed" | "carried over" | "as the column says" | "on a new build";

export interface ItemRenewal {
  readonly item: string;
  readonly renewal: Renewal;
  /** Header of the column that tells, where one does. */
  readonly column: string | null;
}

/** The items of a statement and what it says of each; empty for a statement that does not name items. */
export const renewalsOf = ({ members = [] }: AddedRows): readonly ItemRenewal[] =>
  members.flatMap((member) => {
    const item = nameOf(member.item);
    return item === null ? [] : [{ item, ...renewalOf(member.renewed) }];
  });

/**
 * The statement with other answers; its words follow. An item that a statement about new builds no longer names is left
 * to what is said of a rebuild.
 *
 * @param proposed  The statement as proposed: it knows which column tells, and what a new build is.
 * @param renewals  Renewal by item; items left out keep what was proposed.
 */
export function withRenewals(proposed: AddedRows, renewals: Readonly<Record<string, Renewal>>): AddedRows {
  const members = (proposed.members ?? []).flatMap((member) => {
    const item = nameOf(member.item);
    const renewal = item === null ? undefined : renewals[item];
    const before = renewalOf(member.renewed).renewal;
    if (renewal === undefined || renewal === before) return [member];
    if (before === "on a new build" && renewal === "carried over") return [];
    return [{ ...member, renewed: { constant: renewal === "renewed" } satisfies ColumnRule }];
  });
  const statement = statementOf({ ...proposed, members });
  return { ...proposed, members, statement, question: `${statement.replace(/\.$/, "")}; is that so?`, answered: false };
}

function statementOf(added: AddedRows): string {
  const renewals = renewalsOf(added);
  const named = (renewal: Renewal) => renewals.filter((each) => each.renewal === renewal).map(({ item }) => item);
  const onNew = named("on a new build");
  if (onNew.length === renewals.length)
    return onNew.length === 0 ? "A new build renews what a rebuild renews." : `A new build renews ${onNew.join(", ")}.`;
  const renewed = named("renewed");
  const told = renewals
    .filter(({ renewal }) => renewal === "as the column says")
    .map(({ item, column }) => `it renews ${item} where "${column}" says so`);
  const carried = named("carried over");
  const parts = [
    renewed.length === 0 ? "renews no item every time" : `renews ${renewed.join(", ")}`,
    ...told,
    ...(carried.length === 0 ? [] : [`it carries over ${carried.join(", ")}`]),
  ];
  return `A rebuild ${parts.join("; ")}.`;
}

function nameOf(rule: ColumnRule | undefined): string | null {
  if (rule === undefined) return null;
  if ("constant" in rule) return typeof rule.constant === "string" ? rule.constant : null;
  if (!("pattern" in rule)) return null;
  const [name] = Object.values(rule.becomes ?? {});
  return typeof name === "string" ? name : null;
}

function renewalOf(rule: ColumnRule | undefined): Pick<ItemRenewal, "renewal" | "column"> {
  if (rule !== undefined && "from" in rule) return { renewal: "as the column says", column: rule.from };
  if (rule !== undefined && "pattern" in rule) return { renewal: "on a new build", column: rule.of };
  const renewed = rule !== undefined && "constant" in rule && rule.constant === true;
  return { renewal: renewed ? "renewed" : "carried over", column: null };
}
