/** `npm run check`: everything that can be found wrong without running the program. */
import { spawnSync } from "node:child_process";
import { join, resolve } from "node:path";
import { generatePrismaClient } from "./prisma-generate.ts";

const ROOT = resolve(import.meta.dirname, "..");
const bin = (name: string): string => join(ROOT, "node_modules", ".bin", name);

const STEPS: [what: string, command: string, ...args: string[]][] = [
  ["lock file agrees with package.json", "npm", "ci", "--dry-run", "--offline", "--ignore-scripts"],
  ["types", bin("tsc"), "--build"],
  ["lint and format", bin("biome"), "check", "--error-on-warnings"],
  ["which room imports which", process.execPath, "scripts/check-arrows.ts"],
  ["docs/openapi.json", process.execPath, "scripts/openapi.ts", "--check"],
  ["the page's list of endpoints", process.execPath, "apps/web/scripts/endpoints.ts", "--check"],
  ["code and dependencies nobody uses", bin("knip")],
];

/** Runs every step, also after one has failed, and returns the exit code: 0 only when all of them passed. */
export async function check(): Promise<number> {
  await generatePrismaClient();
  let failed = 0;
  for (const [what, command, ...args] of STEPS) {
    const began = performance.now();
    const result = spawnSync(command, args, { cwd: ROOT, encoding: "utf8" });
    const passed = result.status === 0;
    const time = `${((performance.now() - began) / 1000).toFixed(1)} s`;
    process.stdout.write(`${passed ? "passed" : "FAILED"}  ${what} (${time})\n`);
    if (passed) continue;
    failed += 1;
    process.stdout.write(`${result.error?.message ?? `${result.stdout}${result.stderr}`}\n`);
  }
  return failed > 0 ? 1 : 0;
}
