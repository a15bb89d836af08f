import type { Endpoint, Input, Output } from "@ledgerboard/contracts";
import type { SignedIn, TenantDb } from "@ledgerboard/database";
import type { FastifyReply, FastifyRequest } from "fastify";
import type { RequestServices, Services } from "../services.ts";

/** What a signed-in handler is given. */
export type Context<E> = Input<E> & {
  db: TenantDb;
  who: SignedIn;
  services: RequestServices;
  /** Today in the company's time zone. */
  today: string;
  /** The version the writer saw (If-Match); a number wherever the endpoint declares ifMatch. */
  version: number;
  requestId: string;
  reply: FastifyReply;
};

/** What a public handler is given: no tenant yet, so it must find one first. */
export type PublicContext<E> = Input<E> & {
  services: Services;
  requestId: string;
  request: FastifyRequest;
  reply: FastifyReply;
};

/**
 * The rest of an answer, worked out after the transaction has ended: work of seconds must not hold a connection. What
 * it needs was read before. Not for endpoints that write.
 */
export class Afterwards<T> {
  readonly work: () => Promise<T>;
  constructor(work: () => Promise<T>) {
    this.work = work;
  }
}

export type Implementation =
  | { endpoint: Endpoint; access: "signed_in"; handle: (context: Context<Endpoint>) => Promise<unknown> }
  | { endpoint: Endpoint; access: "public"; handle: (context: PublicContext<Endpoint>) => Promise<unknown> };

/** Ties a declared endpoint to its handler, inside the tenant transaction of whoever is signed in. */
export function implement<E extends Endpoint>(
  endpoint: E,
  handle: (context: Context<E>) => Promise<Output<E> | Afterwards<Output<E>>>,
): Implementation {
  if (endpoint.access === "public") throw new Error(`${endpoint.id} is public; use implementPublic.`);
  return { endpoint, access: "signed_in", handle: handle as never };
}

/** Ties a public endpoint to its handler. */
export function implementPublic<E extends Endpoint>(
  endpoint: E,
  handle: (context: PublicContext<E>) => Promise<Output<E>>,
): Implementation {
  if (endpoint.access !== "public") throw new Error(`${endpoint.id} is not public; use implement.`);
  return { endpoint, access: "public", handle: handle as never };
}
