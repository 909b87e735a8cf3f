import { AnalysisError, sayError, sayRequestError } from "../analysis/index.ts";
import { RequestError } from "./routes/requestError.ts";
import { StorageError } from "./storage/storageError.ts";

/** Any failure in words, for the terminal. */
export function sayFailure(error: unknown): string {
  if (error instanceof AnalysisError) return sayError(error);
  if (error instanceof RequestError) return sayRequestError(error.code, error.facts);
  if (error instanceof StorageError) return error.message;
  if (error instanceof Error && "code" in error && "path" in error && typeof error.path === "string")
    return `${error.path} cannot be used: ${fileTrouble[String(error.code)] ?? error.message}.`;
  return error instanceof Error ? `${error.name}: ${error.message}` : String(error);
}

const fileTrouble: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file or folder",
  ENOTDIR: "it is not a folder",
  EISDIR: "it is a folder, not a file",
  EACCES: "the permissions do not allow it",
  EPERM: "the permissions do not allow it",
};
