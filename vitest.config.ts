import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    globalSetup: ["tests/support/global-setup.ts"],
    include: [
      "packages/*/src/**/*.test.ts",
      "apps/*/src/**/*.test.ts",
      "apps/*/src/**/*.test.tsx",
      "tests/**/*.test.ts",
    ],
    exclude: ["**/node_modules/**"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // Two cores: more workers only wait for each other and for the database.
    maxWorkers: 2,
  },
});
