import type { Highs } from "highs";

/** Above this the runtime is thrown away after use: its memory grows and is never given back. */
const MOST_MEMORY = 400 * 2 ** 20;

let loaded: Promise<Highs> | undefined;

/** HiGHS, fetched on first use only, so that a page which never plans a cut never loads it. */
export function loadSolver(): Promise<Highs> {
  // Its types describe it as CommonJS; what is loaded is the ES module.
  loaded ??= import("highs").then((module) => (module.default as unknown as () => Promise<Highs>)());
  loaded.catch(forgetSolver);
  return loaded;
}

/** After a crash of the runtime, or when it has grown large: the next use starts a fresh one. */
export function forgetSolver(): void {
  loaded = undefined;
}

export function releaseSolver(highs: Highs): void {
  if (highs.memoryBytes > MOST_MEMORY) forgetSolver();
}
