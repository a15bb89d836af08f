import type { FastifyRequest } from "fastify";
import type { Config } from "../config.ts";
import { Problem } from "../problem.ts";

/**
 * Refuses a write that another site's page makes in somebody's browser. Browsers say where a request comes from in
 * Sec-Fetch-Site, which pages cannot set (W3C Fetch Metadata Request Headers, section 2.2); ones that do not, as on
 * plain http, say it in Origin. A request with neither comes from a program, which no other site can steer.
 * A neighbour under the same domain ("same-site") is not trusted either.
 */
export function checkOrigin(request: FastifyRequest, config: Config): void {
  const { origin } = request.headers;
  const site = request.headers["sec-fetch-site"];
  const own = site === undefined ? isOwn(origin, request, config) : site === "same-origin" || site === "none";
  if (!own) throw new Problem("bad-csrf", "Do this from the service's own pages; nothing was changed.");
}

function isOwn(origin: string | undefined, request: FastifyRequest, config: Config): boolean {
  if (origin === undefined) return true;
  const host = URL.parse(origin)?.host;
  return host !== undefined && (host === request.host || host === new URL(config.PUBLIC_URL).host);
}
