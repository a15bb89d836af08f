import { globSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";

const SOURCE = join(import.meta.dirname, "..");
const read = (pattern: string) =>
  globSync(pattern, { cwd: SOURCE }).map((file) => [file, readFileSync(join(SOURCE, file), "utf8")] as const);

/** Class names in the markup of the components every screen shares. */
const shared = new Set(
  read("ui/*.tsx").flatMap(([, text]) =>
    [...text.matchAll(/className="([^"]*)"/g)].flatMap(([, names = ""]) => names.split(/\s+/)),
  ),
);

/** Rules whose selector is nothing but one element with class names, as [file, names]. */
const plainRules = read("screens/**/*.css").flatMap(([file, text]) =>
  [...text.replace(/\/\*.*?\*\//gs, "").matchAll(/([^{};]+)\{/g)]
    .flatMap(([, selectors = ""]) => selectors.split(","))
    .map((selector) => selector.trim())
    .filter((selector) => /^\.[\w-]+([.:][\w-]+|::[\w-]+)*$/.test(selector))
    .map((selector) => [file, selector, selector.match(/(?<=\.)[\w-]+/g) ?? []] as const),
);

// The styles of a screen stay once it was seen: a rule for a shared name would change the next screens too.
it("no screen styles a class of the shared components by its name alone", () => {
  expect(shared).toContain("tick");
  expect(plainRules.length).toBeGreaterThan(100);
  expect(
    plainRules
      .filter(([, , names]) => names.every((name) => shared.has(name)))
      .map(([file, rule]) => `${file}: ${rule}`),
  ).toEqual([]);
});
