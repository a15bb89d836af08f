import type { assessment, Output } from "@ledgerboard/contracts";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { add, issue } from "../api/estimating.fixture.ts";
import { DECK_SHAPE, taken } from "../support/fixtures.ts";
import { raiseCurtain, type Stage } from "./browser.ts";
import {
  type Bench,
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
  reads,
  signedIn,
  WINDOWS,
  written,
} from "./engine.fixture.ts";

type CutPlan = Output<typeof assessment.getCutPlan>;
type Choices = Output<typeof assessment.getChoices>;

/** What follows from a measured and priced zone: boards to cut, choices to weigh, what falls short of the code. */
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

/** The deck with its boards replaced and four joists sistered. */
async function priced(shape: object): Promise<Bench> {
  const b = await bench(stage, shape);
  const line = { zoneId: b.deckId, action: "replace", unit: "sqft" };
  await add(b.c.sales, b.revisionId, {
    ...line,
    component: "decking",
    assemblyCode: "DECK-REPLACE",
    quantity: "120",
  });
  await add(b.c.sales, b.revisionId, {
    ...line,
    component: "joist",
    action: "sister",
    unit: "each",
    assemblyCode: "JOIST-SISTER",
    quantity: "4",
  });
  return b;
}

/** Balusters 6 in apart, where today's code has less than 4. */
const WIDE_GAPS = {
  ...DECK_SHAPE,
  guards: [{ ...DECK_SHAPE.guards[0], clearGapIn: 6 }],
};

describe.each(WINDOWS)("$window", ({ phone }) => {
  test("the cut plan shows every board to scale, and says how good it is", async () => {
    const b = await priced(DECK_SHAPE);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, b.estimate, /First pass/);
    await page.getByRole("link", { name: "What to buy and cut" }).click();
    await page.getByRole("heading", { level: 1, name: "Cut plan" }).waitFor();
    const decking = part(page, "Deck board 5/4x6, treated");
    await decking.waitFor();
    const plan = taken<CutPlan>(await b.c.sales.get(`/revisions/${b.revisionId}/cut-plan`));
    const section = plan.sections.find(({ code }) => code === "PT-54X6");
    if (!section) throw new Error("No deck boards in the plan.");
    // On paper: rows of 5 1/2 in with gaps of 1/8 in over 10 ft are 22; the house is 12 ft long, so one board each.
    const bought = section.buy.reduce((all, { count }) => all + count, 0);
    expect(section.rows).toHaveLength(22);
    const bars = decking.getByRole("img", { name: /^\S+ boards? of \d+ ft: .*12' for/ });
    expect(await bars.count()).toBe(section.boards.length);
    const counts = await decking.locator(".cut-of b").allTextContents();
    expect(counts.map(Number.parseFloat).reduce((all, one) => all + one, 0)).toBe(bought);
    await reads(
      decking,
      section.proved
        ? "Proved: no cheaper plan exists for these pieces."
        : /^Within .* of the best possible: no plan for these pieces costs less than \$/,
    );
    expect(await written(decking)).toContain(money(section.cost));
    await fits(page);
  });

  test("repairing stands beside building new, and the choices of decking beside each other", async () => {
    const b = await priced(DECK_SHAPE);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, b.estimate, /First pass/);
    await page.getByRole("link", { name: /^Repair or build new/ }).click();
    await page.getByRole("heading", { level: 1, name: "Choices" }).waitFor();
    const rebuild = part(page, "Repair or build new");
    await rebuild.waitFor();
    const data = taken<Choices>(await b.c.sales.get(`/revisions/${b.revisionId}/choices`));
    const whole = rebuild.locator(".choices-total");
    await reads(whole, money(data.repair));
    await reads(whole, money(data.rebuild ?? { cents: 0 }));
    expect(data.rebuild?.cents).toBeGreaterThan(data.repair.cents);
    await reads(whole, /^Repairing the whole job costs \d+ ?% of building it new\.$/);

    const table = page.getByRole("table", { name: "Choices of decking" });
    const rows = table.locator("tbody tr");
    expect(await rows.count()).toBe(data.choices.length);
    expect(data.choices.length).toBeGreaterThan(1);
    for (const [at, life] of data.choices.entries()) {
      const row = await written(rows.nth(at));
      expect(row).toContain(life.name);
      for (const amount of [life.now, life.undiscounted, life.presentValue])
        expect(row).toContain(money(amount));
    }

    // Fewer years: worked out again, and the address keeps them.
    const form = page.getByRole("form", { name: "Years and rate" });
    await field(form, "Years looked at").fill("7");
    await button(form, "Work it out again").click();
    await reads(table, "Over 7 years, as paid");
    expect(page.url()).toContain("years=7");
    const few = taken<Choices>(await b.c.sales.get(`/revisions/${b.revisionId}/choices`, { years: 7 }));
    await eventually(() => written(rows.first())).toContain(
      money(few.choices[0]?.presentValue ?? { cents: -1 }),
    );
    await fits(page);
  });

  test("an advisory the measures show is recorded, declined in writing, and stands on the quote", async () => {
    const b = await priced(WIDE_GAPS);
    await issue(b.c.sales, b.revisionId);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, `/jobs/${b.jobId}`, /Lower deck|Ines Calloway/);
    const advisories = part(page, "Advisories");
    const shown = advisories.locator(".adv-suggested li").filter({ hasText: "6 in" });
    await shown.first().waitFor();
    const words = (await written(shown.first().locator("p").first())).replace(/^.*?: /, "");
    await button(shown.first(), "Record it").click();
    const entry = advisories
      .locator("ul.entries > li.entry")
      .filter({ has: page.locator(".adv-decided, .flag") });
    await reads(entry, "to decide");
    expect(await written(entry)).toContain(words);
    await eventually(() => shown.count()).toBe(0);

    await button(entry, "Enter the decision").click();
    await choice(dialog(page), "Declined in writing the customer leaves it as it is").check({ force: true });
    await field(dialog(page), "Who declined").fill("Ines Calloway");
    await button(dialog(page), "Record the decision").click();
    await reads(dialog(page), /^Say how it was put in writing/);
    await field(dialog(page), "How it was put in writing").fill("signed note at the site");
    await button(dialog(page), "Record the decision").click();
    await closed(page);
    await reads(entry, "Declined in writing by Ines Calloway on 25 November 2026: signed note at the site.");
    await fits(page);

    await button(part(page, "Quotes"), "Issue a quote").click();
    await button(dialog(page), "Issue the quote").click();
    await closed(page);
    await button(part(page, "Quotes"), /^TC-26-|^Q-/).click();
    const paper = dialog(page).getByRole("article");
    await reads(paper, "Short of today's code");
    await reads(paper, words);
    await reads(paper, /declined in writing by Ines Calloway on .* \(signed note at the site\)/i);
    await fits(page);
  });

  test("no page reported an error", () => {
    expect(stage.errors).toEqual([]);
  });
});
