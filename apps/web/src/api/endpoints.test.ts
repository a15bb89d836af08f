import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { render } from "../../scripts/endpoints.ts";

it("keeps the page's list of endpoints equal to the contracts", () => {
  const file = new URL("./generated/endpoints.ts", import.meta.url);
  expect(readFileSync(file, "utf8")).toBe(render());
});
