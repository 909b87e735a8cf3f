import { createHmac } from "node:crypto";
import { type Aliases, type MaskedKind, namesOf, type Records } from "../../analysis/index.ts";

/** Without vowels, so that no word comes about, and without letters that look like digits. */
const letters = "23456789BCDFGHJKMNPQRSTVWXZ";
const words: Readonly<Record<MaskedKind, string>> = {
  tool: "Tool",
  well: "Well",
  rig: "Rig",
  crew: "Crew",
  technician: "Technician",
  lot: "Lot",
  customer: "Customer",
  file: "Sheet",
  record: "No.",
};

/**
 * What each name is called in statements: "Tool 7KQ4". Made from the name and the store's secret (HMAC-SHA-256), so a name has
 * the same alias in every statement of one store, whatever was stored since, and nobody without the secret can try names.
 *
 * Conventions  Four characters; five or more only for names whose shorter ones would be alike.
 */
export function aliasesOf(secret: string, records: Records, files: readonly string[]): Aliases {
  const names: Readonly<Record<MaskedKind, readonly string[]>> = { ...namesOf(records), file: files };
  return Object.fromEntries(
    Object.entries(names).map(([kind, list]) => {
      const full = new Map(list.map((name) => [name, codeOf(secret, kind, name)]));
      return [
        kind,
        Object.fromEntries(
          [...full].map(([name, code]) => [name, `${words[kind as MaskedKind]} ${shortest(code, [...full.values()])}`]),
        ),
      ];
    }),
  );
}

function codeOf(secret: string, kind: string, name: string): string {
  const digest = createHmac("sha256", secret)
    .update(JSON.stringify([kind, name]))
    .digest();
  return [...digest].map((byte) => letters[byte % letters.length]).join("");
}

function shortest(code: string, all: readonly string[]): string {
  for (let length = 4; length < code.length; length++) {
    const start = code.slice(0, length);
    if (all.filter((other) => other.startsWith(start)).length === 1) return start;
  }
  return code;
}
