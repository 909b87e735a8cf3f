import type { Request } from "express";
import { RequestError } from "./requestError.ts";

/**
 * Who confirms: initials, asked once on a loopback address. They come in the body, the `X-Initials` header or the
 * `initials` cookie. Letters only, so that nobody signs as something that the program itself writes.
 *
 * Errors  "initials-missing" where none of the three holds one to twelve letters.
 */
export function whoOf(request: Request): string {
  const body: unknown = request.body;
  const inBody = typeof body === "object" && body !== null && "who" in body ? body.who : undefined;
  const written = inBody ?? request.get("x-initials") ?? cookie(request.headers.cookie ?? "", "initials");
  const initials = typeof written === "string" ? written.trim() : "";
  if (!/^[\p{L}.]{1,12}$/u.test(initials)) throw new RequestError("initials-missing");
  return initials;
}

function cookie(header: string, name: string): string | undefined {
  const pair = header.split(";").find((part) => part.trim().startsWith(`${name}=`));
  const value = pair?.slice(pair.indexOf("=") + 1).trim();
  try {
    return value === undefined ? undefined : decodeURIComponent(value);
  } catch {
    return undefined;
  }
}
