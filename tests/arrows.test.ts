import { expect, it } from "vitest";
import { arrowFaults } from "../scripts/check-arrows.ts";

const words = (path: string, source: string) => arrowFaults(path, source).map((fault) => fault.words);

it.each([
  [
    "apps/web/src/a.ts",
    `import { openDatabase } from "@ledgerboard/database";`,
    /may not import packages\/database/,
  ],
  ["packages/rules/src/a.ts", `export * from "../../../apps/api/src/days.ts";`, /may not import apps\/api/],
  ["packages/contracts/src/a.ts", `import { price } from "@ledgerboard/estimating";`, /packages\/estimating/],
  ["packages/database/src/a.ts", `const a = await import("@ledgerboard/api");`, /may not import apps\/api/],
  ["apps/api/src/features/jobs/service.ts", `import pg from "pg";`, /only packages\/database may import pg/],
  [
    "apps/api/src/features/jobs/service.ts",
    `import { quotesRoutes } from "../quotes/routes.ts";`,
    /not its routes/,
  ],
  ["apps/web/src/a.tsx", `import { readFileSync } from "node:fs";`, /does not run on Node alone/],
  ["packages/scheduling/src/a.ts", `import type { Stats } from "fs";`, /may not import fs/],
  ["packages/estimating/src/a.ts", `import { useState } from "react";`, /may not import react/],
  ["packages/estimating/src/a.ts", `const now = Date.now();`, /Date\.now must come in as an argument/],
  ["packages/estimating/src/a.ts", `const today = new Date();`, /new Date\(\) must come in/],
  ["packages/estimating/src/a.ts", `const chance = Math.random();`, /Math\.random must come in/],
  ["packages/rules/src/a.ts", `const id = crypto.randomUUID();`, /crypto\.randomUUID must come in/],
  ["packages/rules/src/a.ts", `const name = "x"; await import(name);`, /not a literal/],
])("finds the fault in %s: %s", (path, source, expected) => {
  expect(words(path, source)).toEqual([expect.stringMatching(expected)]);
});

it.each([
  ["apps/web/src/a.ts", `import { compare } from "@ledgerboard/estimating";`],
  ["apps/api/src/features/jobs/service.ts", `import { findQuote } from "../quotes/queries.ts";`],
  ["packages/database/src/a.ts", `import pg from "pg";`],
  ["packages/rules/src/a.ts", `import caps from "../../../shared/deposit-caps.json" with { type: "json" };`],
  [
    "packages/rules/src/a.ts",
    `// Date.now() in words\nconst day = new Date("2026-01-01"); const s = "Math.random()";`,
  ],
  ["packages/rules/src/a.test.ts", `import { readFileSync } from "node:fs";`],
  ["tests/api/a.test.ts", `import pg from "pg";`],
])("allows %s: %s", (path, source) => {
  expect(words(path, source)).toEqual([]);
});

it("names the line", () => {
  expect(arrowFaults("packages/rules/src/a.ts", "const a = 1;\n\nconst b = Date.now();\n")[0]?.line).toBe(3);
});
