import { describe, expect, it } from "vitest";
import { rememberBest } from "./remember.ts";

/** A solver that answers from a list and says how long it was given. */
function solver(answers: { cents: number; proved: boolean }[]) {
  const asked: number[] = [];
  const ask = rememberBest(
    async (_input: string, limitMs: number) => {
      asked.push(limitMs);
      const answer = answers.shift();
      if (!answer) throw new Error("Asked once too often.");
      return answer;
    },
    (answer) => answer,
  );
  return { ask: (input: string, effort: number) => ask(input, effort, effort), asked };
}

describe("the best answer is remembered", () => {
  it("for good once it is proved, for another question not", async () => {
    const { ask, asked } = solver([
      { cents: 100, proved: true },
      { cents: 7, proved: false },
    ]);
    const first = await ask("joists", 1000);
    expect(await ask("joists", 60_000)).toBe(first);
    expect((await ask("boards", 1000)).cents).toBe(7);
    expect(asked).toEqual([1000, 1000]);
  });

  it("until somebody waits longer, and a dearer one never takes its place", async () => {
    const { ask, asked } = solver([
      { cents: 100, proved: false },
      { cents: 120, proved: false },
      { cents: 90, proved: true },
    ]);
    expect((await ask("a", 1000)).cents).toBe(100);
    expect((await ask("a", 500)).cents).toBe(100);
    expect((await ask("a", 2000)).cents).toBe(100);
    expect((await ask("a", 1500)).cents).toBe(100);
    expect((await ask("a", 3000)).cents).toBe(90);
    expect(asked).toEqual([1000, 2000, 3000]);
  });

  it("of two asked at once the cheaper stays", async () => {
    const { ask } = solver([
      { cents: 80, proved: false },
      { cents: 95, proved: false },
    ]);
    const both = await Promise.all([ask("a", 1000), ask("a", 1000)]);
    expect(both.map((one) => one.cents)).toEqual([80, 80]);
    expect((await ask("a", 1000)).cents).toBe(80);
  });

  it("lets the oldest go when there are too many", async () => {
    const asked: string[] = [];
    const ask = rememberBest(
      async (input: string) => {
        asked.push(input);
        return { cents: 1, proved: true };
      },
      (answer) => answer,
    );
    for (let i = 0; i <= 200; i++) await ask(`order ${i}`, 1, 1);
    await ask("order 200", 1, 1);
    expect(asked).toHaveLength(201);
    await ask("order 0", 1, 1);
    expect(asked).toHaveLength(202);
  });
});
