/**
 * Writes src/api/generated/endpoints.ts: method, path and flags of every endpoint, typed by the contracts.
 * The contracts themselves would carry the schema library into the page (measured: see README.md).
 *
 *   node scripts/endpoints.ts           write the file
 *   node scripts/endpoints.ts --check   exit 1 when the file is out of date
 */
import { readFileSync, writeFileSync } from "node:fs";
import * as contracts from "@ledgerboard/contracts";

const FILE = new URL("../src/api/generated/endpoints.ts", import.meta.url);
const { advisories, assessment, company, crews, customers, estimates, identity, jobs, priceBook, quotes } =
  contracts;
const FEATURES = {
  advisories,
  assessment,
  company,
  crews,
  customers,
  estimates,
  identity,
  jobs,
  priceBook,
  quotes,
};

const kebab = (name: string) => name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);

/** The text of the generated file for the contracts as they are now. */
export function render(): string {
  const known = new Set<unknown>(contracts.ENDPOINTS);
  const imports: string[] = [];
  const rows: string[] = [];
  for (const [feature, declarations] of Object.entries(FEATURES)) {
    imports.push(`import type * as ${feature} from "@ledgerboard/contracts/${kebab(feature)}";`);
    const sorted = Object.entries(declarations).sort(([a], [b]) => (a < b ? -1 : 1));
    for (const [name, value] of sorted) {
      const endpoint = contracts.ENDPOINTS.find((one) => one === value);
      if (!endpoint) continue;
      known.delete(endpoint);
      const flags = [endpoint.idempotent && `"key"`, endpoint.ifMatch && `"version"`].filter(Boolean);
      const args = [endpoint.id, endpoint.method, endpoint.path, endpoint.tag].map((a) => JSON.stringify(a));
      rows.push(`  ${name}: wire<typeof ${feature}.${name}>(${[...args, ...flags].join(", ")}),`);
    }
  }
  if (known.size > 0) throw new Error("An endpoint belongs to a feature this script does not list: add it.");
  return [
    "// Made from packages/contracts by scripts/endpoints.ts: run that again instead of editing.",
    ...imports,
    `import { wire } from "../wire.ts";`,
    "",
    "export const api = {",
    ...rows,
    "};",
    "",
  ].join("\n");
}

if (import.meta.main) {
  const text = render();
  if (!process.argv.includes("--check")) writeFileSync(FILE, text);
  else if (readFileSync(FILE, "utf8") !== text) {
    process.stderr.write("src/api/generated/endpoints.ts is out of date: run node scripts/endpoints.ts.\n");
    process.exitCode = 1;
  }
}
