/** `npm run bench`: every budget of the program as a ratio against a reference run beside it. */
import { endpointRows } from "./endpoints.ts";
import { type BenchRow, buildWorld } from "./world.ts";

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

const world = await buildWorld(say);
const rows: BenchRow[] = [];
try {
  say("Measuring the list, board and job endpoints (about two minutes)…");
  rows.push(...(await endpointRows(world)));
} finally {
  await world.close();
}
say("");
const width = Math.max(...rows.map((r) => r.name.length));
for (const r of rows) {
  say(
    `${r.name.padEnd(width)}  ${r.ratio.toFixed(2)}  bar ${r.bar}  ${r.holds ? "holds" : "FALLS SHORT"}  (${r.measured})`,
  );
}
process.exitCode = rows.every((r) => r.holds) ? 0 : 1;
