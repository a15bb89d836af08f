/** `npm run bench`: prepares what the benchmarks need and runs them. */
import { generatePrismaClient } from "./prisma-generate.ts";

export async function bench(): Promise<number> {
  await generatePrismaClient();
  const { run } = await import("../tests/bench/run.ts");
  return run();
}
