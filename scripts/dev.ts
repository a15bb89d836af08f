/** `npm run dev`: the service for its developers. The API starts again on every change; the page reloads itself. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { join, resolve } from "node:path";
import { stopOnSignal } from "@ledgerboard/api/stop";
import { openLocalDatabase, secret } from "./local-database.ts";
import { generatePrismaClient } from "./prisma-generate.ts";

const ROOT = resolve(import.meta.dirname, "..");
const print = (line: string): void => void process.stdout.write(`${line}\n`);

/** Starts database, API and page server, and returns once they run; Ctrl-C stops all three. */
export async function dev(): Promise<void> {
  const client = generatePrismaClient();
  const children: ChildProcess[] = [];
  let opening: ReturnType<typeof openLocalDatabase> | undefined;
  const close = async (): Promise<void> => {
    const running = children.filter((child) => child.exitCode === null && child.signalCode === null);
    const ended = running.map((child) => once(child, "exit"));
    for (const child of running) child.kill("SIGTERM");
    await Promise.all(ended);
    await (await opening?.catch(() => undefined))?.stop();
  };
  stopOnSignal(close);
  opening = openLocalDatabase(print, client);
  const database = await opening;
  if (database.empty) print("The database is empty: npm start fills it with the demo companies.");

  const launch = (args: string[], env: NodeJS.ProcessEnv = {}): void => {
    const child = spawn(process.execPath, args, {
      cwd: ROOT,
      env: { ...process.env, ...env },
      stdio: ["ignore", "inherit", "inherit"],
    });
    children.push(child);
    child.once("exit", (code) => {
      if (code) print(`${args.join(" ")} ended with ${code}.`);
    });
  };
  launch(["--watch", "--watch-preserve-output", "apps/api/src/main.ts", "all"], {
    DATABASE_URL: database.appUrl,
    APP_SECRET: await secret("app-secret"),
    // Links in mail lead to the page server, which passes /api on to the port it knows.
    PUBLIC_URL: "http://127.0.0.1:5173",
    PORT: "8080",
  });
  launch([
    join("node_modules", "vite", "bin", "vite.js"),
    "apps/web",
    "--host",
    "127.0.0.1",
    "--clearScreen",
    "false",
  ]);
  print(
    "\nThe page will be at http://127.0.0.1:5173, the API is at http://127.0.0.1:8080. Ctrl-C stops both.\n",
  );
}
