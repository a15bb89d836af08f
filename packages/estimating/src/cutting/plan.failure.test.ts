import { expect, it, vi } from "vitest";
import { planCuts } from "./plan.ts";

let starts = 0;
vi.mock("highs", async (original) => {
  const real = await original<{ default: () => Promise<Record<string, unknown>> }>();
  return {
    default: async () => {
      starts += 1;
      const highs = await real.default();
      if (starts > 1) return highs;
      return new Proxy(highs, {
        get: (target, name) =>
          name === "createModel"
            ? () => {
                throw new Error("unreachable");
              }
            : target[name as string],
      });
    },
  };
});

it("keeps the plan it has when HiGHS breaks down, and starts a fresh one the next time", async () => {
  const order = {
    pieces: [
      { lengthIn: 45, count: 97 },
      { lengthIn: 36, count: 610 },
      { lengthIn: 31, count: 395 },
      { lengthIn: 14, count: 211 },
    ],
    stock: [{ lengthIn: 100, costCents: 1 }],
    kerfIn: 0,
    endTrimIn: 0,
  };
  const broken = await planCuts(order);
  expect(broken).toMatchObject({ solverFailed: true, proved: false, stopped: false });
  expect(broken.costCents).toBeGreaterThan(453);
  expect(broken.boundCents).toBeLessThanOrEqual(453);
  expect(broken.gap).toBeGreaterThan(0);
  expect(await planCuts(order)).toMatchObject({ solverFailed: false, proved: true, costCents: 453 });
});
