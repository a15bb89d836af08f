import type { Call, Method, Output } from "@ledgerboard/contracts/endpoint";

/** What the browser must know of an endpoint; `E` is the contract's own type. */
export interface Wire<E> {
  id: string;
  method: Method;
  path: string;
  /** The group of things it belongs to; decides what an act makes stale. */
  tag: string;
  /** Needs an Idempotency-Key. */
  key: boolean;
  /** Needs If-Match with the version that was seen. */
  version: boolean;
  /** Never set: carries the type. */
  contract?: E;
}

export function wire<E>(
  id: string,
  method: Method,
  path: string,
  tag: string,
  ...flags: ("key" | "version")[]
): Wire<E> {
  return { id, method, path, tag, key: flags.includes("key"), version: flags.includes("version") };
}

/** A part is left out when the endpoint has none, optional when everything in it is. */
type Part<K extends string, T> = [T] extends [undefined]
  ? { [k in K]?: undefined }
  : Record<never, never> extends T
    ? { [k in K]?: T }
    : { [k in K]: T };

/** What a call to the endpoint takes: `params`, `query`, `body`, as its contract says. */
export type Args<E> = Part<"params", Call<E>["params"]> &
  Part<"query", Call<E>["query"]> &
  Part<"body", Call<E>["body"]>;

export type { Output };
