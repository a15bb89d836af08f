import { type Board, cheapen, costOf, withoutSurplus } from "./greedy.ts";
import { covers, type Problem } from "./problem.ts";

/** The best plan so far and the proof so far. It only ever gets better, so that it can be cut short at any moment. */
export interface State {
  boards: Board[];
  cost: number;
  /** Cents; whole, and no plan costs less. */
  bound: number;
}

/** Takes a plan if it holds up and is cheaper. */
export function offer(problem: Problem, state: State, boards: readonly Board[] | undefined): boolean {
  if (!boards) return false;
  const plan = cheapen(problem, withoutSurplus(problem, boards));
  const cost = costOf(problem, plan);
  if (cost >= state.cost || !covers(problem, plan)) return false;
  state.boards = plan;
  state.cost = cost;
  return true;
}
