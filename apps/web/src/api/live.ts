import { useSyncExternalStore } from "react";
import { BASE } from "./client.ts";
import { invalidate, q, RESOURCES, type Resource, TOUCHES } from "./queries.ts";
import { queryClient } from "./query-client.ts";

/** Which group of endpoints changes an entity of this name; an unknown one makes everything stale. */
const GROUP: Record<string, string> = {
  member: "members",
  invitation: "members",
  company: "company",
  policy: "company",
  mail: "company",
  customer: "customers",
  property: "customers",
  job: "jobs",
  lead: "jobs",
  promise: "jobs",
  visit: "jobs",
  observation: "jobs",
  zone: "jobs",
  hold: "jobs",
  revision: "estimates",
  scope_line: "estimates",
  variance: "estimates",
  finding_pass: "estimates",
  advisory: "advisories",
  quote: "quotes",
  acceptance: "quotes",
  deposit_request: "money",
  payment: "money",
  crew: "crews",
  closure: "crews",
  booking: "crews",
  price_book: "price book",
  material: "price book",
  assembly: "price book",
  labor_rate: "price book",
};

const SETTLE_MS = 200;
/** A blink of the connection is not worth a word. */
const PATIENCE_MS = 3000;
const LONGEST_WAIT_MS = 30_000;

let lost = false;
const listeners = new Set<() => void>();
function setLost(now: boolean): void {
  if (lost === now) return;
  lost = now;
  for (const listener of listeners) listener();
}

/** True while changes by others do not arrive. */
export const useIsCutOff = (): boolean =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => lost,
  );

/** Follows the company's stream of changes until the returned function is called. */
export function follow(): () => void {
  let source: EventSource | null = null;
  let tries = 0;
  let missed = false;
  let retry: ReturnType<typeof setTimeout> | undefined;
  let patience: ReturnType<typeof setTimeout> | undefined;
  let settle: ReturnType<typeof setTimeout> | undefined;
  let stale = new Map<Resource, Set<string | null>>();

  const flush = () => {
    settle = undefined;
    const now = stale;
    stale = new Map();
    for (const [resource, jobs] of now)
      for (const jobId of jobs.has(null) ? [null] : jobs) void invalidate([resource], jobId);
  };
  const onMessage = (event: MessageEvent<string>) => {
    let change: { entity?: string; jobId?: string | null };
    try {
      change = JSON.parse(event.data);
    } catch {
      return;
    }
    const group = GROUP[change.entity ?? ""];
    for (const resource of (group && TOUCHES[group]) || RESOURCES)
      stale.set(resource, (stale.get(resource) ?? new Set()).add(change.jobId ?? null));
    settle ??= setTimeout(flush, SETTLE_MS);
  };
  const open = () => {
    clearTimeout(retry);
    source?.close();
    source = new EventSource(`${BASE}/events`);
    source.addEventListener("change", onMessage);
    source.onopen = () => {
      clearTimeout(patience);
      patience = undefined;
      tries = 0;
      setLost(false);
      if (missed) void queryClient.invalidateQueries();
      missed = false;
    };
    source.onerror = () => {
      source?.close();
      missed = true;
      patience ??= setTimeout(() => setLost(true), PATIENCE_MS);
      // The stream cannot say why it was refused; asking for the session finds out whether it is over.
      if (tries === 2) void queryClient.invalidateQueries({ queryKey: q.session().queryKey });
      retry = setTimeout(open, Math.min(LONGEST_WAIT_MS, 1000 * 2 ** tries++) * (0.75 + Math.random() / 2));
    };
  };
  const back = () => {
    if (source?.readyState !== EventSource.OPEN) open();
  };
  open();
  window.addEventListener("online", back);
  return () => {
    window.removeEventListener("online", back);
    for (const timer of [retry, patience, settle]) clearTimeout(timer);
    source?.close();
    setLost(false);
  };
}
