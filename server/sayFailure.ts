import { AnalysisError, sayError, sayRequestError } from "../analysis/index.ts";
import { RequestError } from "./routes/requestError.ts";
import { StorageError } from "./storage/storageError.ts";

/** Any failure in words, for the terminal. */
export function sayFailure(error: unknown): string {
  if (error instanceof AnalysisError) return sayError(error);
  if (error instanceof RequestError) return sayRequestError(error.code, error.facts);
  if (error instanceof StorageError) return error.message;
  return error instanceof Error ? `${error.name}: ${error.message}` : String(error);
}
