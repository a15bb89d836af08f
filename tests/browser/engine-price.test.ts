import { addDays } from "@ledgerboard/contracts/dates";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { todayOf } from "../support/priced-job.ts";
import { raiseCurtain, type Stage } from "./browser.ts";
import {
  addWritten,
  allSaved,
  bench,
  button,
  choice,
  closed,
  dialog,
  eventually,
  field,
  fits,
  money,
  NOW,
  open,
  part,
  priceShown,
  readDraft,
  reads,
  signedIn,
  WINDOWS,
  writeLine,
  written,
} from "./engine.fixture.ts";

/** What a price is made of and what stands beside it; and what becomes of it when the price book moves. */
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

const DECKING = { component: "decking", action: "replace", quantity: "200", assembly: "DECK-REPLACE" };
/** Money at the end of each row of a table, the sum at its foot last. */
async function amounts(page: Page, caption: string): Promise<number[]> {
  const cells = await page.getByRole("table", { name: caption }).locator("td.num").allTextContents();
  return cells.map((text) => Math.round(Number(text.replace(/[$,]/g, "").replace("−", "-")) * 100));
}
const sum = (cents: readonly number[]) => cents.reduce((all, one) => all + one, 0);

describe.each(WINDOWS)("$window", ({ phone }) => {
  test("work charged only if found, an extra and a charge at cost stand where they belong, to the cent", async () => {
    const b = await bench(stage);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, b.estimate, /First pass/);
    await writeLine(page, DECKING);
    await addWritten(page);
    const decking = money((await readDraft(b)).totals.price);
    await eventually(() => priceShown(page)).toBe(decking);

    // Concealed: agreed unit price and cap at once, and the price stays.
    const form = await writeLine(page, { component: "rim_joist", action: "repair", quantity: "8" });
    await field(form, "How it is known").selectOption("concealed");
    await choice(form, "only if found, at the agreed unit price").click();
    await form.getByLabel("Chance that there is any").fill("20");
    await form.getByLabel("Least, if any").fill("2");
    await form.getByLabel("Most").fill("16");
    expect(await form.getByLabel("Customer pays up to").inputValue()).toBe("16");
    await form.getByLabel("Customer pays up to").fill("12");
    await reads(form, /Nothing of it is in the price/);
    const told = await written(form.locator(".est-comes"));
    await addWritten(page);
    const found = (await readDraft(b)).lines.find(({ component }) => component === "rim_joist");
    if (!found?.agreed) throw new Error("The concealed line has no agreed unit price.");
    const { unitPrice, cap, capQuantity } = found.agreed;
    expect([cap.cents, capQuantity, found.price.price.cents]).toEqual([12 * unitPrice.cents, "12", 0]);
    expect(told).toContain(
      `Agreed unit price ${money(unitPrice)} a ft, at most 12 ft, so no more than ${money(cap)}.`,
    );
    await reads(page.locator(`#line-${found.id}`), `a ft, if found; at most ${money(cap)}`);
    await reads(part(page, "Beside the price"), `${money(unitPrice)} a ft`);
    expect(await priceShown(page)).toBe(decking);

    // An optional extra: beside the price too.
    const extra = await writeLine(page, { component: "decking", action: "finish", quantity: "200" });
    await field(extra, "Optional extra").fill("staining");
    await addWritten(page);
    const [alternate] = (await readDraft(b)).alternates;
    expect(alternate?.name).toBe("staining");
    const staining = part(page, "Beside the price").locator("summary", { hasText: "staining" });
    await eventually(() => written(staining)).toBe(
      `staining${money(alternate?.price.price ?? { cents: 0 })}`,
    );
    expect(await priceShown(page)).toBe(decking);

    // A charge at cost: the price moves by exactly what it costs.
    const before = (await readDraft(b)).totals.price.cents;
    await button(page, "Add a cost").click();
    const cost = page.getByRole("form", { name: "A new cost of the whole job" });
    await field(cost, "For").fill("County deck permit");
    await field(cost, "Cost").fill("185.40");
    await cost.getByRole("checkbox", { name: /^Passed on at cost/ }).check({ force: true });
    await button(cost, "Add it").click();
    await cost.waitFor({ state: "detached" });
    await reads(page.getByRole("table", { name: "Costs of the whole job" }), "at cost");
    await eventually(() => priceShown(page)).toBe(money({ cents: before + 18_540 }));
    await fits(page);
  });

  test("every price unfolds by keyboard, and what is on screen is what the service says", async () => {
    const b = await bench(stage);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, b.estimate, /First pass/);
    await writeLine(page, DECKING);
    await addWritten(page);
    await writeLine(page, { component: "joist", action: "sister", quantity: "3" });
    await addWritten(page);
    await field(page, "How much: Lower deck, joist").fill("5");
    await field(page, "How much: Lower deck, joist").press("Enter");
    await allSaved(page);
    await eventually(async () => (await readDraft(b)).lines[1]?.quantity).toBe("5");
    const { lines, totals } = await readDraft(b);

    const unfolder = button(page, /^Price of Lower deck, joist: /);
    await unfolder.focus();
    expect(await unfolder.getAttribute("aria-expanded")).toBe("false");
    await page.keyboard.press("Enter");
    await eventually(() => unfolder.getAttribute("aria-expanded")).toBe("true");
    const rows = await amounts(page, "How the price is made");
    expect(rows.length).toBeGreaterThan(4);
    expect([sum(rows.slice(0, -1)), rows.at(-1)]).toEqual(Array(2).fill(lines[1]?.price.price.cents));
    await page.keyboard.press("Space");
    await eventually(() => unfolder.getAttribute("aria-expanded")).toBe("false");

    for (const { price, component } of lines)
      expect(await written(button(page, new RegExp(`^Price of Lower deck, ${component}: `)))).toBe(
        money(price.price),
      );
    const figure = (name: RegExp) => page.locator(".est-side .est-figure").filter({ hasText: name }).first();
    expect(await written(part(page, "What it comes to").locator(".big b"))).toBe(money(totals.price));
    expect(await written(figure(/^Cost/).locator("b"))).toBe(money(totals.cost));
    expect(await written(figure(/^Labor/).locator("summary"))).toContain(`${totals.hours} h`);
    expect(await priceShown(page)).toBe(money(totals.price));
    // The bill opens from the keyboard too, down to the lines behind a figure.
    await figure(/^Material/)
      .locator("summary")
      .focus();
    await page.keyboard.press("Enter");
    await reads(figure(/^Material/), "Lower deck: joist, sister");
    await fits(page);
  });

  test.each([
    ["a material of the book in effect", false],
    ["a new book from tomorrow", true],
  ])("prices changed by %s are taken only when somebody says so", async (_way, fresh) => {
    const b = await bench(stage);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, b.estimate, /First pass/);
    await writeLine(page, DECKING);
    await addWritten(page);
    const before = (await readDraft(b)).totals.price;
    const notice = page.getByText("Prices have changed since this draft was started.");
    expect(await notice.count()).toBe(0);

    const owner = await signedIn(stage, b.c.owner, phone);
    await open(owner, "/price-book?part=materials", "Price book");
    if (fresh) {
      await button(owner, "Start a new price book from a day").click();
      await field(dialog(owner), "Name").fill("Winter prices");
      const tomorrow = addDays(todayOf(stage.harness), 1);
      await field(dialog(owner), "Takes effect on").fill(tomorrow);
      await button(dialog(owner), "Start the book").click();
      await closed(owner);
      await reads(owner, "Winter prices");
    }
    await button(owner, "Change PT-54X6").click();
    const prices = dialog(owner).getByLabel("Price", { exact: true });
    await prices.first().waitFor();
    for (let row = 0; row < (await prices.count()); row++) await prices.nth(row).fill(`${30 + row * 8}`);
    await button(dialog(owner), "Save").click();
    await closed(owner);
    await fits(owner);
    if (fresh) {
      expect((await readDraft(b)).newerPrices).toBeNull();
      stage.harness.setNow(`${addDays(todayOf(stage.harness), 1)}T15:00:00Z`);
      await page.reload();
    }

    // An open page hears of it by itself.
    await notice.waitFor();
    await fits(page);
    await button(page, "See what would move").click();
    const moved = dialog(page).getByRole("table", { name: "Lines that move" });
    await moved.waitFor();
    const [from, to] = (await amounts(page, "Lines that move")).slice(0, 2);
    expect(from).toBe(before.cents);
    expect(to).toBeGreaterThan(before.cents);
    const after = money({ cents: to ?? 0 });
    await reads(dialog(page), `From ${money(before)} to ${after}`);
    await fits(page);
    await button(dialog(page), "Leave it as it is").click();
    await closed(page);
    expect([await priceShown(page), (await readDraft(b)).totals.price]).toEqual([money(before), before]);
    expect(await notice.isVisible()).toBe(true);

    await button(page, "See what would move").click();
    await button(dialog(page), "Take today's prices").click();
    await closed(page);
    await eventually(() => priceShown(page)).toBe(after);
    await notice.waitFor({ state: "detached" });
    expect((await readDraft(b)).totals.price.cents).toBe(to);
    await owner.context().close();
  });

  test("no page reported an error", () => {
    expect(stage.errors).toEqual([]);
  });
});
