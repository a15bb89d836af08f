/** Builds the web app, only where something it is made of has changed since. */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";

const ROOT = resolve(import.meta.dirname, "..");
const WEB = join(ROOT, "apps", "web");
const STAMP = join(ROOT, ".cache", "web-build.sha256");

/** Where the built files are. */
export const WEB_ROOT = join(WEB, "dist");

/** What the built files are made of, relative to the root; directories count with all that is in them. */
const INGREDIENTS = [
  "package-lock.json",
  "shared",
  "apps/web/index.html",
  "apps/web/package.json",
  "apps/web/public",
  "apps/web/src",
  "apps/web/vite.config.ts",
  "packages/contracts/src",
  "packages/estimating/src",
  "packages/rules/src",
  "packages/scheduling/src",
];

/**
 * Brings apps/web/dist up to date. The builder is running when this returns its promise, so a caller may do work of
 * its own beside it.
 *
 * @returns whether it had to be built.
 * @throws with the builder's own words.
 */
export async function buildWeb(onProgress: (line: string) => void = () => undefined): Promise<boolean> {
  const stamp = fingerprint();
  const last = existsSync(STAMP) ? readFileSync(STAMP, "utf8") : "";
  if (existsSync(join(WEB_ROOT, "index.html")) && last === stamp) return false;
  onProgress("Building the web app (only after it has changed)…");
  // Removed first: an interrupted build must not leave half a page that looks up to date.
  rmSync(STAMP, { force: true });
  const vite = join(ROOT, "node_modules", "vite", "bin", "vite.js");
  if (!existsSync(vite)) throw new Error("The builder of the web app is not installed: run npm ci.");
  const { code, words } = await new Promise<{ code: number | null; words: string }>((done, fail) => {
    const child = spawn(process.execPath, [vite, "build", WEB, "--logLevel", "warn"], {
      cwd: ROOT,
      env: { ...process.env, NODE_ENV: "production" },
      stdio: ["ignore", "pipe", "pipe"],
    });
    let words = "";
    child.stdout.on("data", (text) => {
      words += text;
    });
    child.stderr.on("data", (text) => {
      words += text;
    });
    child.once("error", fail);
    child.once("close", (code) => done({ code, words }));
  });
  if (code !== 0) throw new Error(`The web app could not be built:\n${words.trim()}`);
  mkdirSync(join(ROOT, ".cache"), { recursive: true });
  writeFileSync(STAMP, stamp);
  return true;
}

function fingerprint(): string {
  const hash = createHash("sha256");
  for (const path of INGREDIENTS) {
    for (const file of filesUnder(path)) hash.update(`${file}\0`).update(readFileSync(join(ROOT, file)));
  }
  return hash.digest("hex");
}

function* filesUnder(path: string): Generator<string> {
  if (!statSync(join(ROOT, path)).isDirectory()) {
    yield path;
    return;
  }
  for (const name of readdirSync(join(ROOT, path)).sort()) {
    if (!/\.test\.tsx?$/.test(name)) yield* filesUnder(`${path}/${name}`);
  }
}
