import { ApiProblem } from "../../api/problem.ts";

/**
 * Words the service refused rows of a list with, by row and field as they stand on screen ("2.size"). `path` is the
 * list in the request ("packs"); `at` the row on screen of each one sent, as incomplete rows are not.
 */
export function rowFaults(problem: unknown, path: string, at: readonly number[]): Record<string, string> {
  if (!(problem instanceof ApiProblem)) return {};
  const start = `body.${path}.`;
  const faults = problem.errors.flatMap(({ path: where, message }) => {
    const [, row, field] = where.startsWith(start)
      ? (/^(\d+)\.(\w+)/.exec(where.slice(start.length)) ?? [])
      : [];
    return row && field ? [[`${at[Number(row)] ?? row}.${field}`, message]] : [];
  });
  return Object.fromEntries(faults);
}
