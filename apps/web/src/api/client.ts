import type { ProblemDocument } from "@ledgerboard/contracts/problem";
import { ApiProblem, isProblem, NoConnection } from "./problem.ts";
import type { Args, Output, Wire } from "./wire.ts";

export const BASE = "/api/v1";

/** Proof that a write comes from this page; arrives with the session. */
let csrfToken = "";

export interface CallOptions {
  /** The version that was seen, for endpoints that guard against lost changes. */
  version?: number | undefined;
  /** One key for one intent: a second try of the same submit passes the same key. */
  key?: string | undefined;
  signal?: AbortSignal | undefined;
}

type Loose = Record<string, unknown>;

function address(path: string, params: Loose = {}, query: Loose = {}): string {
  const filled = path.replace(/:([A-Za-z]+)/g, (_, name: string) => {
    const value = params[name];
    if (typeof value !== "string" || value === "") throw new Error(`The call to ${path} lacks ${name}.`);
    return encodeURIComponent(value);
  });
  const search = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) if (value !== undefined) search.set(name, String(value));
  const text = search.toString();
  return `${BASE}${filled}${text && `?${text}`}`;
}

async function readProblem(response: Response): Promise<ApiProblem> {
  const fallback: ProblemDocument = {
    type: "about:blank",
    status: response.status,
    title: "The service answered in a way this page does not understand. Try again in a moment.",
  };
  try {
    const document = (await response.json()) as Partial<ProblemDocument>;
    return new ApiProblem(typeof document.title === "string" ? { ...fallback, ...document } : fallback);
  } catch {
    return new ApiProblem(fallback);
  }
}

async function send<E>(endpoint: Wire<E>, args: Args<E>, options: CallOptions): Promise<Output<E>> {
  const { params, query, body } = args as { params?: Loose; query?: Loose; body?: unknown };
  const headers: Record<string, string> = { accept: "application/json" };
  if (endpoint.method !== "GET" && csrfToken) headers["x-csrf-token"] = csrfToken;
  if (endpoint.key) headers["idempotency-key"] = options.key ?? crypto.randomUUID();
  if (endpoint.version) {
    if (options.version === undefined) throw new Error(`${endpoint.id} needs the version that was seen.`);
    headers["if-match"] = `"${options.version}"`;
  }
  if (body !== undefined) headers["content-type"] = "application/json";
  let response: Response;
  try {
    response = await fetch(address(endpoint.path, params, query), {
      method: endpoint.method,
      headers,
      credentials: "same-origin",
      ...(body !== undefined && { body: JSON.stringify(body) }),
      ...(options.signal && { signal: options.signal }),
    });
  } catch (error) {
    if (options.signal?.aborted) throw error;
    throw new NoConnection(error);
  }
  if (!response.ok) throw await readProblem(response);
  const data = (await response.json().catch((error: unknown) => {
    throw new NoConnection(error);
  })) as Output<E>;
  const token = (data as { csrfToken?: unknown } | null)?.csrfToken;
  if (typeof token === "string") csrfToken = token;
  return data;
}

/**
 * Calls one endpoint of the API and returns what its contract promises.
 * Throws ApiProblem when the service refuses and NoConnection when it cannot be reached.
 */
export async function call<E>(
  endpoint: Wire<E>,
  { version, key, signal, ...args }: Args<E> & CallOptions,
): Promise<Output<E>> {
  const options = { version, signal, key: key ?? (endpoint.key ? crypto.randomUUID() : undefined) };
  try {
    return await send(endpoint, args as unknown as Args<E>, options);
  } catch (error) {
    // Signed in anew in another tab: the cookie moved on and so must the token. Once.
    if (!isProblem(error, "bad-csrf")) throw error;
    const response = await fetch(`${BASE}/session`, { credentials: "same-origin" }).catch(() => null);
    if (!response?.ok) throw error;
    csrfToken = ((await response.json()) as { csrfToken: string }).csrfToken;
    return send(endpoint, args as unknown as Args<E>, options);
  }
}
