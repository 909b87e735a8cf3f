import type { RequestHandler } from "express";
import { RequestError } from "./requestError.ts";

const loopbackNames = ["localhost", "127.0.0.1", "[::1]"];

/**
 * Answers only under names of this machine: a page elsewhere whose name was pointed at the loopback address (DNS
 * rebinding) sends its own name as Host and is refused. `hosts` are further names, without port.
 */
export function onlyKnownHosts(hosts: readonly string[] = []): RequestHandler {
  const known = new Set([...loopbackNames, ...hosts.map((host) => host.toLowerCase())]);
  return (request, _response, next) => {
    const host = request.headers.host ?? "";
    if (!known.has(nameOf(host))) throw new RequestError("host-refused", { host: host.slice(0, 100) });
    next();
  };
}

/** Refuses a change that a page of another site asks for. Programs that are no browser send neither header. */
export const onlyOwnPages: RequestHandler = (request, _response, next) => {
  if (request.method === "GET" || request.method === "HEAD") return next();
  const { origin, host } = request.headers;
  const site = request.headers["sec-fetch-site"];
  const foreignOrigin = origin !== undefined && originHost(origin) !== host;
  const foreignSite = site !== undefined && site !== "same-origin" && site !== "none";
  if (foreignOrigin || foreignSite) throw new RequestError("cross-site-refused");
  next();
};

function nameOf(host: string): string {
  return host.toLowerCase().replace(/:\d+$/, "");
}

function originHost(origin: string): string | null {
  try {
    return new URL(origin).host;
  } catch {
    return null;
  }
}
