/** Finds a Chromium that really starts: the browser of the tests. Run it directly to print the path. */
import { execFile } from "node:child_process";
import { constants, createReadStream, createWriteStream, existsSync } from "node:fs";
import { access, chmod, mkdir, mkdtemp, readFile, rename, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { delimiter, dirname, join, resolve } from "node:path";
import { pipeline } from "node:stream/promises";
import { promisify } from "node:util";
import { createBrotliDecompress } from "node:zlib";
import { chromium } from "playwright-core";

const run = promisify(execFile);

const CACHE = resolve(import.meta.dirname, "..", ".cache");
const SYSTEM_NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];

/**
 * Arguments to launch it with. The sandbox needs rights that root and containers lack, and the tests open
 * none but our own pages; /dev/shm is too small in containers; hinting would make text differ by machine.
 */
export const CHROMIUM_ARGS: readonly string[] = [
  "--no-sandbox",
  "--disable-dev-shm-usage",
  "--font-render-hinting=none",
];

let found: Promise<string> | undefined;

/**
 * Path of a browser that was seen to load a page just now: the one CHROMIUM_PATH names, else one of the
 * system, else the one of the npm package @sparticuz/chromium, unpacked once into .cache/.
 *
 * @throws with one line that says what to install, where none starts.
 */
export function chromiumPath(): Promise<string> {
  found ??= find();
  return found;
}

async function find(): Promise<string> {
  const named = process.env.CHROMIUM_PATH;
  if (named) {
    if (await starts(named)) return named;
    throw new Error(`CHROMIUM_PATH is ${named}, which does not start: correct it, or unset it.`);
  }
  for (const path of await onPath(SYSTEM_NAMES)) {
    if (await starts(path)) return path;
  }
  const fromNpm = await npmBrowser().catch(() => undefined);
  // The system's libraries first; the package brings the few that a bare system lacks.
  for (const path of fromNpm ?? []) {
    if (await starts(path)) return path;
  }
  throw new Error(
    "No Chromium starts here: install one with `apt-get install chromium`, or set CHROMIUM_PATH.",
  );
}

async function onPath(names: string[]): Promise<string[]> {
  const directories = (process.env.PATH ?? "").split(delimiter).filter(Boolean);
  const paths = names.flatMap((name) => directories.map((directory) => join(directory, name)));
  const runnable = await Promise.all(
    paths.map((path) =>
      access(path, constants.X_OK).then(
        () => true,
        () => false,
      ),
    ),
  );
  return paths.filter((_, index) => runnable[index]);
}

/** Drawing a page takes every library, the renderer and a font; printing a version would not. */
async function starts(executablePath: string): Promise<boolean> {
  try {
    const browser = await chromium.launch({ executablePath, args: [...CHROMIUM_ARGS], timeout: 20_000 });
    try {
      const page = await browser.newPage();
      await page.setContent("<p>seen</p>");
      return (await page.screenshot()).length > 0 && (await page.textContent("p")) === "seen";
    } finally {
      await browser.close();
    }
  } catch {
    return false;
  }
}

async function cache(): Promise<string> {
  await mkdir(CACHE, { recursive: true });
  return CACHE;
}

/**
 * The npm package's browser as two launchers: with the system's libraries, and with those of the package.
 * The package's own unpacking is not used: it writes to fixed names in /tmp, takes a half-written file of an
 * interrupted run for a whole one, and unpacks the libraries only on the hosting service it was made for.
 */
async function npmBrowser(): Promise<string[]> {
  const entry = createRequire(import.meta.url).resolve("@sparticuz/chromium");
  const root = resolve(dirname(entry), "..", "..");
  const { version } = JSON.parse(await readFile(join(root, "package.json"), "utf8")) as { version: string };
  const home = join(await cache(), `chromium-${version}`);
  if (!existsSync(home)) {
    const fresh = await mkdtemp(`${home}.`);
    try {
      await unpack(join(root, "bin"), fresh, home);
      await rename(fresh, home);
    } catch (cause) {
      await rm(fresh, { recursive: true, force: true });
      // Another process may have unpacked it meanwhile.
      if (!existsSync(home)) throw cause;
    }
  }
  return [join(home, "launch"), join(home, "launch-with-libraries")];
}

async function unpack(source: string, target: string, home: string): Promise<void> {
  await inflate(join(source, "chromium.br"), join(target, "chromium"));
  await chmod(join(target, "chromium"), 0o755);
  for (const archive of ["swiftshader", "al2023", "fonts"]) {
    const tar = join(target, `${archive}.tar`);
    await inflate(join(source, `${archive}.tar.br`), tar);
    await run("tar", ["--extract", "--no-same-owner", `--file=${tar}`, `--directory=${target}`]);
    await rm(tar);
  }
  // The package's fonts come after the system's own, which a bare system does not have.
  await writeFile(
    join(target, "fonts.conf"),
    `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <include ignore_missing="yes">/etc/fonts/fonts.conf</include>
  <dir>${home}/fonts</dir>
  <cachedir>${home}/fonts-cache</cachedir>
</fontconfig>
`,
  );
  const launcher = (libraries: string) => `#!/bin/sh
export FONTCONFIG_FILE="${home}/fonts.conf"
${libraries}exec "${home}/chromium" "$@"
`;
  await writeFile(join(target, "launch"), launcher(""), { mode: 0o755 });
  await writeFile(join(target, "launch-with-libraries"), launcher(`export LD_LIBRARY_PATH="${home}/lib"\n`), {
    mode: 0o755,
  });
}

async function inflate(from: string, to: string): Promise<void> {
  await pipeline(createReadStream(from), createBrotliDecompress(), createWriteStream(to));
}

if (import.meta.main) process.stdout.write(`${await chromiumPath()}\n`);
