import { cuttingRows } from "./cutting.ts";
import { endpointRows } from "./endpoints.ts";
import { pricingRows } from "./pricing.ts";
import { simulationRows } from "./simulation.ts";
import { type BenchRow, buildWorld } from "./world.ts";

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

/**
 * Every budget of the program as a ratio against a reference run beside it, printed as a table.
 *
 * @returns the exit code: 0 when every bar holds.
 */
export async function run(): Promise<number> {
  say("Measuring pricing, comparison, simulation and cutting (about a minute)…");
  const rows: BenchRow[] = [...pricingRows(), ...simulationRows(), ...(await cuttingRows())];
  const world = await buildWorld(say);
  try {
    say("Measuring the list, board and job endpoints (about two minutes)…");
    rows.push(...(await endpointRows(world)));
  } finally {
    await world.close();
  }
  say("");
  const width = Math.max(...rows.map((r) => r.name.length));
  for (const r of rows) {
    const verdict = r.holds ? "holds" : "FALLS SHORT";
    say(`${r.name.padEnd(width)}  ${r.ratio.toFixed(2)}  bar ${r.bar}  ${verdict}  (${r.measured})`);
  }
  return rows.every((r) => r.holds) ? 0 : 1;
}
