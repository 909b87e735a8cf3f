import { sayStorageError } from "../../analysis/index.ts";
import type { StorageErrorCode } from "./types.ts";

/** An error of the store: a code with facts, worded by `sayStorageError`. Never holds a password or a row's content. */
export class StorageError extends Error {
  override readonly name = "StorageError";
  constructor(
    readonly code: StorageErrorCode,
    readonly facts: Readonly<Record<string, string | number | null>> = {},
  ) {
    super(sayStorageError(code, facts));
  }
}

/**
 * What may be repeated of an engine's or a file system's error: its code and message. The rest of a database error
 * can hold whole rows and parameters.
 */
export function reasonOf(error: unknown): string {
  if (error instanceof AggregateError && error.errors.length > 0) return reasonOf(error.errors[0]);
  const { code, message } = (error ?? {}) as { readonly code?: unknown; readonly message?: unknown };
  return (
    [code, message].filter((part): part is string => typeof part === "string" && part !== "").join(": ") || "unknown"
  );
}
