import { readFileSync } from "node:fs";
import { z } from "zod";
import { type ReferenceFile, referenceFile } from "./types.ts";

/** Reads a file of reference cases; throws with the file's name and what is wrong in it. */
export function readReferenceFile(path: string | URL): ReferenceFile {
  let content: unknown;
  try {
    content = JSON.parse(readFileSync(path, "utf8"));
  } catch (error) {
    throw new Error(`${path}: ${error instanceof Error ? error.message : String(error)}`);
  }
  const parsed = referenceFile.safeParse(content);
  if (!parsed.success) throw new Error(`${path}: not a file of reference cases\n${z.prettifyError(parsed.error)}`);
  return parsed.data;
}
