import { readFile } from "node:fs/promises";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { assemblyOf, materialOf, readBook } from "../api/price-book.fixture.ts";
import { raiseCurtain, type Stage } from "./browser.ts";
import {
  bench,
  button,
  choice,
  eventually,
  field,
  fits,
  money,
  NOW,
  open,
  part,
  reads,
  signedIn,
  WINDOWS,
  written,
} from "./engine.fixture.ts";

/** The price book as the owner keeps it: as files for a spreadsheet, and recipe by recipe. */
vi.setConfig({ testTimeout: 60_000 });
let stage: Stage;
beforeAll(async () => {
  stage = await raiseCurtain();
  stage.harness.setNow(NOW);
}, 180_000);
afterEach(async ({ task }) => {
  if (task.result?.state === "fail") await stage.pictures();
});
afterAll(() => stage?.close());

/** The list of materials as the browser saves it. */
async function download(page: Page): Promise<string> {
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    button(part(page, "Take prices out"), "Materials").click(),
  ]);
  return readFile(await file.path(), "utf8");
}

const bring = (page: Page, csv: string) =>
  page
    .getByLabel("File", { exact: true })
    .setInputFiles({ name: "materials.csv", mimeType: "text/csv", buffer: Buffer.from(csv) });

describe.each(WINDOWS)("$window", ({ phone }) => {
  test("a file with a fault is refused with its line; a good one shows before and after, then applies", async () => {
    const { c } = await bench(stage);
    const page = await signedIn(stage, c.owner, phone);
    await open(page, "/price-book", "Price book");
    await choice(page, "Files").click();
    const csv = await download(page);
    const lines = csv.split(/\r?\n/);
    const at = lines.findIndex((line) => line.startsWith("HANGER-2X8,"));
    const was = materialOf(await readBook(c.owner), "HANGER-2X8").packs[0]?.price;
    if (at < 0 || !was) throw new Error(`The file has no hanger:\n${csv.slice(0, 400)}`);
    const price = String(was.cents / 100);
    const shown = new RegExp(`,${price.replace(".", "\\.")},`);
    expect(lines[at]).toMatch(shown);
    const withPrice = (text: string) =>
      lines.with(at, lines[at]?.replace(shown, `,${text},`) ?? "").join("\n");

    await bring(page, withPrice("two dollars"));
    await reads(page, "Below is materials.csv.");
    await button(page, "Check the file").click();
    const faults = page.getByRole("table", { name: "What is wrong in the file" });
    await faults.waitFor();
    // Lines are counted as an editor shows them: the heading is the first.
    const cells = await faults.locator("tbody tr").first().locator("td, th").allTextContents();
    expect([await faults.locator("tbody tr").count(), cells[0], cells[1]]).toEqual([
      1,
      expect.stringContaining(`${at + 1}`),
      expect.stringContaining("pack_price"),
    ]);
    expect(await button(page, "Apply").count()).toBe(0);
    await fits(page);

    await bring(page, withPrice("9.87"));
    await faults.waitFor({ state: "detached" });
    await button(page, "Check the file").click();
    await reads(
      page,
      "Nothing is wrong with the file. Nothing has been changed yet: look below, then apply.",
    );
    const change = page.locator(".pb-changes > li");
    expect([await change.count(), await written(change.locator("b").first())]).toEqual([1, "HANGER-2X8"]);
    expect(await written(change.locator("s"))).toContain(price);
    expect(await written(change.locator("dd b"))).toContain("9.87");
    expect(materialOf(await readBook(c.owner), "HANGER-2X8").packs[0]?.price).toEqual(was);
    await button(page, "Apply").click();
    await reads(page, "Applied: the book now says what the file says.");
    expect(materialOf(await readBook(c.owner), "HANGER-2X8").packs[0]?.price.cents).toBe(987);
    await choice(page, /^Materials \d/).click();
    await reads(page.getByRole("row", { name: /HANGER-2X8\b/ }), "$9.87");
    await fits(page);
  });

  test("the worked example of an assembly changes with every key, and says what saving will make of it", async () => {
    const { c } = await bench(stage);
    const before = assemblyOf(await readBook(c.owner), "DECK-REPLACE");
    const page = await signedIn(stage, c.owner, phone);
    await open(page, "/price-book", "Price book");
    await page.locator("summary", { hasText: "Decking" }).click();
    await page.getByRole("link", { name: before.description, exact: true }).click();
    await page.getByRole("heading", { level: 1, name: before.description }).waitFor();
    const example = page.getByRole("complementary", { name: "Worked example" });
    const price = () => written(example.getByRole("status").locator("b"));
    await field(example, "Quantity").fill("1");
    await eventually(price).toBe(money(before.unitPrice));

    const labor = page.getByRole("group", { name: "Labor" });
    const hours = field(labor, "One sq ft");
    const was = await hours.inputValue();
    await hours.fill("0.5");
    await eventually(price).not.toBe(money(before.unitPrice));
    const dearer = await price();
    await reads(example, /0\.5 h/);
    // What is no number is left out, and said.
    await hours.fill("");
    await reads(example, /^Without one row that /);
    await eventually(price).not.toBe(dearer);
    await hours.fill(was);
    await eventually(price).toBe(money(before.unitPrice));
    expect(assemblyOf(await readBook(c.owner), "DECK-REPLACE")).toEqual(before);

    await hours.fill("0.5");
    await eventually(price).toBe(dearer);
    await button(page, "Save").click();
    await reads(page.locator(".toasts"), "Saved. Lines already written keep their rates.");
    const after = assemblyOf(await readBook(c.owner), "DECK-REPLACE");
    expect([after.recipe.labor[0]?.hoursPerUnit, money(after.unitPrice)]).toEqual(["0.5", dearer]);
    await fits(page);
  });

  test("no page reported an error", () => {
    expect(stage.errors).toEqual([]);
  });
});
