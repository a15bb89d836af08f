/**
 * Keeps the rooms of the house apart: which room may import which, and that the pure packages have neither
 * input nor output, clock nor chance. Run directly to print every offending line; the rules are the tables below.
 */
import { readdirSync, readFileSync } from "node:fs";
import { isBuiltin } from "node:module";
import { dirname, join, relative, resolve } from "node:path";
import { parseSync, Visitor } from "oxc-parser";

const ROOT = resolve(import.meta.dirname, "..");

/** Room → the rooms it may import. What is not listed here (tests, scripts) may import every room. */
const ARROWS: Record<string, readonly string[]> = {
  "packages/contracts": [],
  "packages/estimating": ["packages/contracts", "packages/rules", "shared"],
  "packages/scheduling": ["packages/contracts"],
  "packages/rules": ["packages/contracts", "shared"],
  "packages/documents": ["packages/contracts"],
  "packages/database": ["packages/contracts"],
  "apps/api": [
    "packages/contracts",
    "packages/database",
    "packages/documents",
    "packages/estimating",
    "packages/rules",
    "packages/scheduling",
  ],
  "apps/web": ["packages/contracts", "packages/estimating", "packages/rules", "packages/scheduling"],
};

/** Same input, same output: these use nothing but their arguments, so that screens and server agree. */
const PURE = new Set(["packages/contracts", "packages/estimating", "packages/rules", "packages/scheduling"]);
/** The libraries the pure packages may use: none does input or output, but for HiGHS reading its own program. */
const PURE_LIBRARIES = new Set(["zod", "highs"]);
const IMPURE_GLOBALS = new Set(["process", "crypto", "performance", "fetch", "setTimeout", "setInterval"]);

/** The driver and the client reach every company's rows, so only the room that sets the tenant may hold them. */
const DATABASE_ONLY = /^(pg|pg-boss|@prisma\/.+)$/;

export interface Fault {
  line: number;
  words: string;
}

/**
 * The faults of one file.
 *
 * @param path relative to the repository's root, with forward slashes.
 */
export function arrowFaults(path: string, source: string): Fault[] {
  const room = roomOf(path);
  const allowed = ARROWS[room];
  if (!allowed) return [];
  const faults: Fault[] = [];
  const { module, program, errors } = parseSync(path, source);
  const fault = (start: number, words: string) =>
    faults.push({ line: source.slice(0, start).split("\n").length, words });
  for (const error of errors) fault(error.labels[0]?.start ?? 0, `cannot be read: ${error.message}`);

  const inTest = /\.(test|fixture)\.tsx?$/.test(path);
  const pure = PURE.has(room) && !inTest;
  // A configuration file or a generator beside the web app runs on Node; only src/ goes to the browser.
  const inBrowser = path.startsWith("apps/web/src/") && !inTest;

  const check = (specifier: string, start: number) => {
    const target = targetOf(path, specifier);
    if (target !== undefined) {
      const to = roomOf(target);
      if (to !== room && !allowed.includes(to)) fault(start, `${room} may not import ${to} ("${specifier}")`);
      const [from, into] = [featureOf(path), featureOf(target)];
      if (from && into && from !== into && target.endsWith("/routes.ts"))
        fault(start, `a feature may use another's service or queries, not its routes ("${specifier}")`);
      return;
    }
    const library = specifier.replace(/^((@[^/]+\/)?[^/]+).*$/, "$1");
    if (DATABASE_ONLY.test(library) && room !== "packages/database" && !inTest)
      fault(start, `only packages/database may import ${library}: use its tenant handle`);
    if (isBuiltin(specifier)) {
      if (pure || inBrowser)
        fault(start, `${room} may not import ${specifier}: it does not run on Node alone`);
    } else if (pure && !PURE_LIBRARIES.has(library)) {
      fault(start, `${room} is pure and may not import ${library}`);
    }
  };
  for (const one of module.staticImports) check(one.moduleRequest.value, one.start);
  for (const one of module.staticExports)
    for (const entry of one.entries) if (entry.moduleRequest) check(entry.moduleRequest.value, one.start);
  for (const { moduleRequest, start } of module.dynamicImports) {
    const text = source.slice(moduleRequest.start, moduleRequest.end);
    const literal = /^["'`]([^"'`$]*)["'`]$/.exec(text);
    if (literal?.[1] !== undefined) check(literal[1], start);
    else fault(start, `import(${text}) is not a literal, so nobody can tell what it imports`);
  }

  if (pure) {
    const words = (what: string) => `${room} is pure: ${what} must come in as an argument`;
    new Visitor({
      MemberExpression(node) {
        if (node.object.type !== "Identifier" || node.property.type !== "Identifier" || node.computed) return;
        const name = `${node.object.name}.${node.property.name}`;
        if (name === "Date.now" || name === "Math.random" || IMPURE_GLOBALS.has(node.object.name))
          fault(node.start, words(name));
      },
      NewExpression(node) {
        if (node.callee.type !== "Identifier" || node.callee.name !== "Date") return;
        if (node.arguments.length === 0) fault(node.start, words("new Date()"));
      },
      CallExpression(node) {
        if (node.callee.type !== "Identifier") return;
        const { name } = node.callee;
        if (name === "Date" || IMPURE_GLOBALS.has(name)) fault(node.start, words(`${name}()`));
      },
    }).visit(program);
  }
  return faults;
}

function roomOf(path: string): string {
  const [first = "", second] = path.split("/");
  return second && (first === "packages" || first === "apps") ? `${first}/${second}` : first;
}

function featureOf(path: string): string | undefined {
  return /^apps\/api\/src\/features\/([^/]+)\//.exec(path)?.[1];
}

/** The file or room an import of our own leads to; undefined for a library. */
function targetOf(path: string, specifier: string): string | undefined {
  if (specifier.startsWith(".")) return relative(ROOT, resolve(ROOT, dirname(path), specifier));
  const own = /^@ledgerboard\/([^/]+)(\/.*)?$/.exec(specifier);
  if (!own) return undefined;
  return `${own[1] === "api" || own[1] === "web" ? "apps" : "packages"}/${own[1]}/src${own[2] ?? "/index"}.ts`;
}

function* sources(directory: string): Generator<string> {
  for (const entry of readdirSync(join(ROOT, directory), { withFileTypes: true })) {
    const path = `${directory}/${entry.name}`;
    if (entry.isDirectory()) {
      if (!["node_modules", "dist", "generated"].includes(entry.name)) yield* sources(path);
    } else if (/\.tsx?$/.test(entry.name) && !entry.name.endsWith(".d.ts")) yield path;
  }
}

if (import.meta.main) {
  let files = 0;
  for (const path of [...sources("packages"), ...sources("apps")]) {
    files += 1;
    for (const { line, words } of arrowFaults(path, readFileSync(join(ROOT, path), "utf8"))) {
      process.stdout.write(`${path}:${line}: ${words}\n`);
      process.exitCode = 1;
    }
  }
  if (files === 0) throw new Error("No source files were found: the check would pass on anything.");
}
