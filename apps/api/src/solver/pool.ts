import {
  type CutPlan,
  type CuttingOrder,
  type DeckLayout,
  EstimateInputError,
  type LaidBoards,
} from "@ledgerboard/estimating";
import { Piscina } from "piscina";
import { Problem } from "../problem.ts";
import type { Answer, Job } from "./jobs.ts";
import { rememberBest } from "./remember.ts";

export interface SolveOptions {
  /** Milliseconds from the start of the job until the best plan so far is given; 5,000 when left out. */
  limitMs?: number;
  /** How long somebody is ready to wait for the whole of his question; see rememberBest. The limit when left out. */
  effortMs?: number;
  /** Gives the job up: the promise is rejected with an AbortError, and the thread at work on it is ended. */
  signal?: AbortSignal;
}

/**
 * Plans cuts in threads of its own, so that requests are answered meanwhile. The best answer to a question is kept, so
 * that asking again does not depend on how busy the machine is; jobs that may be given up (signal) are not kept.
 */
export interface Solver {
  /** As planCuts; throws EstimateInputError as it does. */
  planCuts(order: CuttingOrder, options?: SolveOptions): Promise<CutPlan>;
  /** As layBoards; throws EstimateInputError as it does. */
  layBoards(deck: DeckLayout, options?: SolveOptions): Promise<LaidBoards>;
  /** Ends every thread; jobs still at work are rejected. */
  close(): Promise<void>;
}

const LIMIT_MS = 5_000;
/** A thread with nothing to do is ended after this long, and its memory given back. */
const IDLE_MS = 60_000;
/** Jobs that may wait for a thread; beyond that a job is refused at once. */
const MOST_WAITING = 50;

/** The pool says that too many wait by its words alone. */
function refusal(error: unknown): unknown {
  if (!(error instanceof Error && /queue is at limit|no task queue available/i.test(error.message)))
    return error;
  return new Problem(
    "unavailable",
    "Too many cut plans are being worked out at once. Try again in a few seconds.",
    { retryAfter: 10 },
    error,
  );
}

/**
 * Opens the solver. No thread is started before the first job.
 *
 * @param threads how many jobs run at once, 1 or 2; each takes a whole processor while it runs.
 * @param waiting how many jobs may wait for a thread; one more is refused as unavailable, to be tried again later.
 */
export function openSolver({
  threads = 1,
  waiting = MOST_WAITING,
}: {
  threads?: 1 | 2;
  waiting?: number;
} = {}): Solver {
  const pool = new Piscina({
    filename: new URL("./jobs.ts", import.meta.url).href,
    minThreads: 0,
    maxThreads: threads,
    idleTimeout: IDLE_MS,
    maxQueue: waiting,
  });
  const run = async <Input, Result>(
    name: "cuts" | "boards",
    input: Input,
    { limitMs = LIMIT_MS, signal }: SolveOptions = {},
  ): Promise<Result> => {
    const job: Job<Input> = { input, limitMs };
    const answer: Answer<Result> = await pool
      .run(job, { name, ...(signal && { signal }) })
      .catch((error: unknown) => {
        throw refusal(error);
      });
    if ("findings" in answer) throw new EstimateInputError(answer.findings);
    return answer.result;
  };
  const cuts = rememberBest<CuttingOrder, CutPlan>(
    (order, limitMs) => run("cuts", order, { limitMs }),
    (plan) => ({ cents: plan.costCents, proved: plan.proved }),
  );
  const boards = rememberBest<DeckLayout, LaidBoards>(
    (deck, limitMs) => run("boards", deck, { limitMs }),
    ({ plan, layoutProved }) => ({ cents: plan.costCents, proved: layoutProved && plan.proved }),
  );
  return {
    planCuts(order, { signal, limitMs = LIMIT_MS, effortMs = limitMs } = {}) {
      return signal ? run("cuts", order, { limitMs, signal }) : cuts(order, effortMs, limitMs);
    },
    layBoards(deck, { signal, limitMs = LIMIT_MS, effortMs = limitMs } = {}) {
      return signal ? run("boards", deck, { limitMs, signal }) : boards(deck, effortMs, limitMs);
    },
    close: () => pool.destroy(),
  };
}
