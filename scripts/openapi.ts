/**
 * Writes docs/openapi.json from the declared endpoints.
 *
 *   node scripts/openapi.ts           write the file
 *   node scripts/openapi.ts --check   exit 1 when the file is out of date
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { openApiDocument } from "@ledgerboard/api/http/openapi";

const FILE = new URL("../docs/openapi.json", import.meta.url);

const text = `${JSON.stringify(openApiDocument(), null, 2)}\n`;
if (!process.argv.includes("--check")) {
  mkdirSync(new URL(".", FILE), { recursive: true });
  writeFileSync(FILE, text);
} else {
  let now = "";
  try {
    now = readFileSync(FILE, "utf8");
  } catch {
    // Missing is out of date as well.
  }
  if (now !== text) {
    process.stderr.write("docs/openapi.json is out of date: run npm run generate.\n");
    process.exitCode = 1;
  }
}
