import { type ChildProcess, spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import autocannon from "autocannon";
import type { BenchRow, World } from "./world.ts";

const SERVER = fileURLToPath(new URL("./endpoint-servers.ts", import.meta.url));
const ROUNDS = 5;
const SECONDS = 3;
const CONNECTIONS = 10;
/** The bar of the plan: the program keeps at least this share of a bare server's throughput. */
const BAR = 0.7;

function start(
  kind: "api" | "reference",
  world: World,
  paths: string[],
): Promise<{ child: ChildProcess; port: number }> {
  const child = spawn(
    process.execPath,
    [SERVER, kind, world.appUrl, world.cookie, world.companyId, ...paths],
    {
      stdio: ["ignore", "pipe", "inherit"],
    },
  );
  return new Promise((resolve, reject) => {
    child.on("exit", (code) => reject(new Error(`The ${kind} server ended with ${code}.`)));
    child.stdout?.on("data", (chunk: Buffer) => {
      const port = /ready (\d+)/.exec(chunk.toString())?.[1];
      if (port) resolve({ child, port: Number(port) });
    });
  });
}

async function load(port: number, path: string, cookie: string): Promise<number> {
  const result = await autocannon({
    url: `http://127.0.0.1:${port}${path}`,
    connections: CONNECTIONS,
    duration: SECONDS,
    headers: { cookie },
  });
  if (result.non2xx > 0 || result.errors > 0)
    throw new Error(`${path}: ${result.non2xx} refusals, ${result.errors} errors.`);
  return result.requests.average;
}

/** Throughput of list, board and job, as shares of the bare server's in the same minutes. */
export async function endpointRows(world: World): Promise<BenchRow[]> {
  const paths: [name: string, path: string][] = [
    ["list: GET /jobs, 50 rows", "/api/v1/jobs?limit=50"],
    ["board: GET /crew-sheet, 28 days", `/api/v1/crew-sheet?from=${world.today}&days=28`],
    ["job: GET /jobs/:id", `/api/v1/jobs/${world.jobId}`],
  ];
  const all = paths.map(([, path]) => path);
  const [api, reference] = await Promise.all([start("api", world, all), start("reference", world, all)]);
  try {
    const rows: BenchRow[] = [];
    for (const [name, path] of paths) {
      await load(api.port, path, world.cookie);
      await load(reference.port, path, world.cookie);
      const rounds: { api: number; reference: number; ratio: number }[] = [];
      // Turn and turn about, so that a slow minute of the machine falls on both.
      for (let round = 0; round < ROUNDS; round++) {
        const bare = await load(reference.port, path, world.cookie);
        const whole = await load(api.port, path, world.cookie);
        rounds.push({ api: whole, reference: bare, ratio: whole / bare });
      }
      const median = rounds.sort((a, b) => a.ratio - b.ratio)[Math.floor(ROUNDS / 2)];
      if (!median) throw new Error("Nothing was measured.");
      rows.push({
        name,
        measured: `${Math.round(median.api)}/s against ${Math.round(median.reference)}/s, the middle of ${ROUNDS} rounds`,
        ratio: median.ratio,
        bar: `≥ ${BAR}`,
        holds: median.ratio >= BAR,
      });
    }
    return rows;
  } finally {
    for (const { child } of [api, reference]) {
      child.removeAllListeners("exit");
      child.kill("SIGKILL");
    }
  }
}
