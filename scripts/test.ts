/** `npm test`: prepares what the tests need, then checks and runs everything. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { join, resolve } from "node:path";
import { check } from "./check.ts";
import { chromiumPath } from "./chromium-path.ts";
import { generatePrismaClient } from "./prisma-generate.ts";
import { buildWeb } from "./web-build.ts";

const ROOT = resolve(import.meta.dirname, "..");
const print = (line: string): void => void process.stdout.write(`${line}\n`);

/**
 * Runs the whole gate; with arguments only the tests they name (`npm test -- tests/api`), unchecked.
 *
 * @returns the exit code.
 */
export async function test(args: string[]): Promise<number> {
  await generatePrismaClient();
  await buildWeb(print);
  // Unpacked here, once, rather than in the middle of a test that has a time limit.
  print("Looking for a browser…");
  const browser = await chromiumPath();
  print(`Browser: ${browser}`);
  if (args.length === 0 && (await check()) !== 0) return 1;

  const vitest = join(ROOT, "node_modules", "vitest", "vitest.mjs");
  const child = spawn(process.execPath, [vitest, "run", ...args], {
    cwd: ROOT,
    env: { ...process.env, CHROMIUM_PATH: browser },
    stdio: "inherit",
  });
  // The terminal tells vitest of Ctrl-C itself; this process waits for it to clean up.
  process.on("SIGINT", () => undefined);
  process.on("SIGTERM", () => child.kill("SIGTERM"));
  const [code] = (await once(child, "exit")) as [number | null];
  return code ?? 1;
}
