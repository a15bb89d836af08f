import type { z } from "zod";
import type { Permission } from "./permissions.ts";

export type Access = Permission | "public" | "signed_in";
export type Method = "GET" | "POST" | "PUT" | "PATCH" | "DELETE";

type Shape = z.ZodType;

/** One HTTP operation: the single declaration that API, web client, OpenAPI and tests are made from. */
export interface Endpoint<
  P extends Shape = Shape,
  Q extends Shape = Shape,
  B extends Shape = Shape,
  R extends Shape = Shape,
> {
  /** Stable name in camelCase, also the OpenAPI operationId. */
  id: string;
  method: Method;
  /** Below /api/v1, with `:name` parameters. */
  path: `/${string}`;
  summary: string;
  tag: string;
  access: Access;
  params?: P;
  query?: Q;
  body?: B;
  response: R;
  status: 200 | 201 | 202;
  /** The POST creates or moves money (or must not happen twice): an Idempotency-Key header is required. */
  idempotent?: true;
  /** With `dryRun: true` in its body it only says what it would do: nothing is changed, audited or remembered. */
  dryRuns?: true;
  /** The write is refused unless If-Match carries the version the writer saw. */
  ifMatch?: true;
  /** The answer carries an ETag made of the record's version. */
  etag?: true;
  /** Stricter limit per address a minute, for doors open to the street. */
  perMinute?: number;
}

/** Declares an endpoint, keeping the exact types of its parts. */
export const endpoint = <
  P extends Shape = z.ZodUndefined,
  Q extends Shape = z.ZodUndefined,
  B extends Shape = z.ZodUndefined,
  R extends Shape = Shape,
>(
  declaration: Endpoint<P, Q, B, R>,
): Endpoint<P, Q, B, R> => declaration;

export type Input<E> =
  E extends Endpoint<infer P, infer Q, infer B, Shape>
    ? { params: z.output<P>; query: z.output<Q>; body: z.output<B> }
    : never;
export type Output<E> = E extends Endpoint<Shape, Shape, Shape, infer R> ? z.output<R> : never;
/** What a caller sends, before defaults are filled in. */
export type Call<E> =
  E extends Endpoint<infer P, infer Q, infer B, Shape>
    ? { params: z.input<P>; query: z.input<Q>; body: z.input<B> }
    : never;
