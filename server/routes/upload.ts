import type { RequestHandler } from "express";
import multer from "multer";
import type { DropLimits } from "../intake/drops.ts";
import { RequestError } from "./requestError.ts";

/** Refuses a drop by its announced length, before any of it is read into memory. */
export function refuseTooLarge({ dropBytes }: DropLimits): RequestHandler {
  return (request, _response, next) => {
    const length = Number(request.headers["content-length"]);
    if (!request.is("multipart/form-data"))
      throw new RequestError("upload-refused", { reason: "it is not multipart/form-data" });
    if (!Number.isFinite(length)) throw new RequestError("upload-refused", { reason: "its length is not given" });
    if (length > dropBytes) throw new RequestError("drop-too-large", { megabytes: Math.round(dropBytes / 1e6) });
    next();
  };
}

/** Reads the files of the field "files" into memory, within limits. */
export function readFiles({ fileBytes, files }: DropLimits): RequestHandler {
  return multer({
    storage: multer.memoryStorage(),
    limits: { fileSize: fileBytes, files, fields: 0, parts: files, headerPairs: 50, fieldNameSize: 50 },
    defParamCharset: "utf8",
  }).array("files");
}

/**
 * Names of the files of one drop: the last part of a path, without control characters, each name once ("runs.csv",
 * "runs (2).csv"), so that a mapping edited by file name means one file.
 */
export function fileNames(written: readonly string[]): readonly string[] {
  const taken = new Set<string>();
  return written.map((name) => {
    const plain = plainName(name);
    const dot = plain.lastIndexOf(".");
    const [stem, ending] = dot > 0 ? [plain.slice(0, dot), plain.slice(dot)] : [plain, ""];
    let unique = plain;
    for (let copy = 2; taken.has(unique); copy += 1) unique = `${stem} (${copy})${ending}`;
    taken.add(unique);
    return unique;
  });
}

function plainName(written: string): string {
  const last = written.split(/[\\/]/).at(-1) ?? "";
  // \p{C}: control, format and unassigned characters, among them the marks that turn text around.
  const clean = last.replace(/\p{C}/gu, "").trim().slice(-150);
  return clean === "" || /^\.+$/.test(clean) ? "sheet" : clean;
}
