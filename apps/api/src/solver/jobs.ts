/** What runs in the solver's thread: one export for each kind of job. */
import {
  type CutPlan,
  type CuttingOrder,
  type DeckLayout,
  EstimateInputError,
  type InputFinding,
  type LaidBoards,
  layBoards,
  planCuts,
} from "@ledgerboard/estimating";

/** An error class does not survive the way between threads, so findings travel as plain data. */
export type Answer<T> = { result: T } | { findings: readonly InputFinding[] };

export interface Job<Input> {
  input: Input;
  limitMs: number;
}

async function answer<T>(work: () => Promise<T>): Promise<Answer<T>> {
  try {
    return { result: await work() };
  } catch (error) {
    if (error instanceof EstimateInputError) return { findings: error.findings };
    throw error;
  }
}

const now = () => performance.now();

export const cuts = ({ input, limitMs }: Job<CuttingOrder>): Promise<Answer<CutPlan>> =>
  answer(() => planCuts(input, { limitMs, now }));

export const boards = ({ input, limitMs }: Job<DeckLayout>): Promise<Answer<LaidBoards>> =>
  answer(() => layBoards(input, { limitMs, now }));
