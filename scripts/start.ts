/** `npm start`: the whole service on one computer, with its own database, at http://127.0.0.1:8080. */
import { execFile } from "node:child_process";
import { readFile, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { join } from "node:path";
import { promisify } from "node:util";
import { readConfig } from "@ledgerboard/api/config";
import { failureWords, portProblem } from "@ledgerboard/api/plain-words";
import { stopOnSignal } from "@ledgerboard/api/stop";
import { words } from "@ledgerboard/contracts/vocabulary";
import { DATA, openLocalDatabase, secret } from "./local-database.ts";
import { buildWeb, WEB_ROOT } from "./web-build.ts";

interface Demo {
  logins: { company: string; role: string; name: string; email: string }[];
  password: string;
}

const LOGINS = join(DATA, "demo-logins.json");
const print = (text = ""): void => void process.stdout.write(`${text}\n`);

/** Starts everything and returns once people can use it; the process then runs until Ctrl-C. */
export async function start(): Promise<void> {
  const began = performance.now();
  const opened: { words: string; close: () => Promise<unknown> }[] = [];
  let stopping = false;
  const close = async (): Promise<void> => {
    stopping = true;
    for (const one of opened.splice(0).reverse()) {
      print(one.words);
      await one.close();
    }
  };

  const settings = {
    LOG_LEVEL: "warn",
    APP_SECRET: await secret("app-secret"),
    ...process.env,
    DATABASE_URL: process.env.DATABASE_URL || "postgresql://",
  };
  const { HOST, PORT } = readConfig(settings);
  await checkPort(HOST, PORT).catch((error) => {
    throw portProblem(error, HOST, PORT);
  });

  stopOnSignal(async () => {
    print("\nStopping…");
    await close();
    print("Stopped.");
  });
  try {
    // Side by side, since none of the three needs another. A failure is looked at where the result is wanted.
    const web = buildWeb(print);
    const client = makeClient();
    for (const one of [web, client]) one.catch(() => undefined);
    const opening = openLocalDatabase(print, client);
    // Also when the wish to stop comes while it still starts.
    opened.push({
      words: "  closing the database",
      close: () =>
        opening.then(
          (one) => one.stop(),
          () => undefined,
        ),
    });
    const local = await opening;
    const { openDatabase } = await import("@ledgerboard/database");
    const { serveQueue, serveRequests } = await import("@ledgerboard/api/serve");
    const config = readConfig({
      PUBLIC_URL: `http://127.0.0.1:${PORT}`,
      ...settings,
      DATABASE_URL: local.appUrl,
    });
    const database = openDatabase({ url: local.appUrl, max: config.DATABASE_POOL });
    opened.push({ words: "  closing connections", close: () => database.close() });
    const services = { config, database, now: () => new Date() };

    const { demoIsThere, seedDemo } = await import("@ledgerboard/api/demo/seed");
    if (local.empty && process.env.LEDGERBOARD_DEMO !== "no") {
      print("Entering the demo companies (first start only)…");
      await local.fill(async () => {
        const demo = await seedDemo(services, { onProgress: (line) => print(`  ${line}`) });
        await writeFile(LOGINS, `${JSON.stringify(demo, null, 2)}\n`, { mode: 0o600 });
      });
    }
    const demo = (await demoIsThere(services)) ? await knownDemo() : undefined;

    await web;
    const worker = await serveQueue(services, (error) => print(`Mail: ${failureWords(error)}`));
    opened.push({ words: "  finishing mail in hand", close: () => worker.close() });
    const server = await serveRequests(services, { webRoot: WEB_ROOT });
    opened.push({ words: "  finishing requests in hand", close: () => server.close() });
    print(`\nLedgerboard is at ${server.url} (ready after ${seconds(began)}).`);
    if (demo) print(`\n${signInTable(demo)}`);
    if (!config.SMTP_URL) print("\nMail is not sent: it is kept in the Outbox, where an owner can read it.");
    print("\nCtrl-C stops it.");
  } catch (error) {
    // What fails because its database was closed is no failure; the signal's handler ends the process.
    if (stopping) return;
    await close();
    throw error;
  }
}

/** In a process of its own: making the client keeps one busy for seconds. */
async function makeClient(): Promise<void> {
  const script = join(import.meta.dirname, "prisma-generate.ts");
  await promisify(execFile)(process.execPath, [script]).catch((error: { stderr?: string }) => {
    throw new Error(error.stderr || String(error));
  });
}

const seconds = (since: number): string => `${((performance.now() - since) / 1000).toFixed(1)} s`;

async function knownDemo(): Promise<Demo | undefined> {
  const text = await readFile(LOGINS, "utf8").catch(() => undefined);
  return text === undefined ? undefined : (JSON.parse(text) as Demo);
}

function signInTable({ logins, password }: Demo): string {
  const rows = [
    ["Company", "Role", "Name", "Email"],
    ...logins.map((login) => [login.company, words(login.role), login.name, login.email]),
  ];
  const widths = [0, 1, 2, 3].map((column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  const lines = rows.map((row) =>
    row
      .map((cell, i) => cell.padEnd(widths[i] ?? 0))
      .join("  ")
      .trimEnd(),
  );
  return [`Sign in with the password "${password}" as:`, "", ...lines.map((line) => `  ${line}`)].join("\n");
}

/** Before the long steps: whether the address can be had at all. */
async function checkPort(host: string, port: number): Promise<void> {
  await new Promise<void>((done, fail) => {
    const probe = createServer();
    probe.once("error", fail);
    probe.listen(port, host, () => probe.close(() => done()));
  });
}
