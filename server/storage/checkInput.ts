import { isText } from "./checkStorable.ts";
import { StorageError } from "./storageError.ts";
import type { BatchInput } from "./store.ts";

/**
 * Refuses a drop that contradicts itself, before anything is written.
 *
 * @returns the moment of the drop in one form
 * Errors   "bad-batch" says why
 */
export function checkInput({ who, when, why = "", files, sheets, setup, remember = [] }: BatchInput): string {
  const moment = checkSigned(who, when);
  if (!isText(why)) refuse("what was said for it holds a character that is no text");
  if (files.length === 0 && setup.length === 0 && remember.length === 0) refuse("it holds nothing");
  const names = new Set(files.map(({ file }) => file));
  if (names.size < files.length) refuse("two of its files have the same name");
  if ([...names].some((name) => name === "" || !isText(name))) refuse("one of its files has no name");
  for (const { mapped } of sheets) {
    if (!names.has(mapped.file)) refuse(`the bytes of "${mapped.file}" are missing`);
  }
  return moment;
}

/**
 * Refuses what nobody signs, or at no moment.
 *
 * @returns the moment in one form
 * Errors   "bad-batch" says why
 */
export function checkSigned(who: string, when: string): string {
  if (who.trim() === "" || !isText(who)) refuse("nobody is named who asks for it");
  if (Number.isNaN(Date.parse(when))) refuse(`"${when.slice(0, 40)}" is no moment in time`);
  return new Date(when).toISOString();
}

function refuse(why: string): never {
  throw new StorageError("bad-batch", { why });
}
