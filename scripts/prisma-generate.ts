/**
 * Makes Prisma's TypeScript client from prisma/schema.prisma, only where the schema or Prisma itself has
 * changed since, and without the network. Run directly, or import `generatePrismaClient`.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";

const ROOT = resolve(import.meta.dirname, "..");
const SCHEMA = join(ROOT, "prisma", "schema.prisma");
const GENERATED = join(ROOT, "packages", "database", "src", "generated");
const STAMP = join(GENERATED, "schema.sha256");
const CLIENT = join(GENERATED, "prisma", "client.ts");

/**
 * Brings the generated client up to date.
 *
 * @returns whether it had to be made.
 * @throws with Prisma's own words when the schema is wrong.
 */
export async function generatePrismaClient(): Promise<boolean> {
  const cli = createRequire(import.meta.url).resolve("prisma/package.json");
  const { version } = JSON.parse(await readFile(cli, "utf8")) as { version: string };
  const schema = await readFile(SCHEMA, "utf8");
  const stamp = createHash("sha256").update(`${version}\n${schema}`).digest("hex");
  if (existsSync(CLIENT) && (await readFile(STAMP, "utf8").catch(() => "")) === stamp) return false;

  // Removed first: an interrupted run must not leave a half-made client that looks up to date.
  await rm(STAMP, { force: true });
  const result = spawnSync(
    process.execPath,
    [join(dirname(cli), "build", "index.js"), "generate", `--schema=${SCHEMA}`, "--no-hints"],
    {
      cwd: ROOT,
      encoding: "utf8",
      env: {
        ...process.env,
        // Generating runs no schema engine, yet Prisma downloads one unless told of a file that exists.
        PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
        PRISMA_HIDE_UPDATE_MESSAGE: "1",
        CHECKPOINT_DISABLE: "1",
      },
    },
  );
  if (result.status !== 0 || !existsSync(CLIENT)) {
    const words =
      `${result.stdout ?? ""}\n${result.stderr ?? ""}`.trim() || String(result.error ?? "no output");
    throw new Error(`Prisma could not make its client from ${SCHEMA}:\n${words}`);
  }
  await writeFile(STAMP, stamp);
  return true;
}

if (import.meta.main) {
  const made = await generatePrismaClient();
  process.stderr.write(
    made ? "Prisma client made from prisma/schema.prisma.\n" : "Prisma client is up to date.\n",
  );
}
