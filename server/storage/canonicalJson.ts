import { createHash } from "node:crypto";

/** JSON with the keys of every object sorted, so that equal content is equal text whatever wrote it. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    inner !== null && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}

export function sha256(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}

/** One hash of many texts, free of their order. A line end parts them, and JSON holds none. */
export function hashOfSet(texts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const text of [...texts].sort()) hash.update(text).update("\n");
  return hash.digest("hex");
}

/** Stands for the hash before the first. */
export const noHash = "0".repeat(64);
