import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { DECK_SHAPE, taken } from "../support/fixtures.ts";
import { raiseCurtain, type Stage } from "./browser.ts";
import {
  addWritten,
  allSaved,
  type Bench,
  bench,
  button,
  choice,
  closed,
  dialog,
  eventually,
  field,
  fits,
  NOW,
  open,
  part,
  reads,
  signedIn,
  WINDOWS,
  writeLine,
  written,
} from "./engine.fixture.ts";

/** Measuring a zone, and what the engine remarks on an estimate of it, as sales meets both. */
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

const stored = async ({ c, jobId, deckId }: Bench): Promise<ZoneGeometry | null> => {
  const job = taken<{ zones: { id: string; geometry: ZoneGeometry | null }[] }>(
    await c.sales.get(`/jobs/${jobId}`),
  );
  return job.zones.find(({ id }) => id === deckId)?.geometry ?? null;
};

describe.each(WINDOWS)("$window", ({ phone }) => {
  test("a deck is measured in feet and inches as people type them, counted at once, and kept", async () => {
    const b = await bench(stage);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, `/jobs/${b.jobId}/zones/${b.deckId}`, "Lower deck");
    await reads(part(page, "Takeoff"), "Nothing can be counted yet.");
    await choice(page, "Rectangle").click();
    await field(page, "Along the house").fill(`12' 6"`);
    await field(page, "Out from the house").fill("10-3");
    await reads(part(page, "Surface"), "= 10 ft 3 in");
    await field(page, "Height above the ground (optional)").fill("3.5");
    await button(page, "Measure the framing").click();
    await button(page, "Measure the decking").click();
    // Once it is left, a field shows its length the way a tape does.
    await eventually(() => field(page, "Out from the house").inputValue()).toBe(`10' 3"`);
    // On paper: 12.5 ft x 10.25 ft; a joist at zero, one every 16 in of 150 in, and one at the end.
    await reads(part(page, "Takeoff"), "128.1 sq ft");
    const joists = part(page, "Takeoff")
      .getByRole("row", { name: /^Joist\b/ })
      .first()
      .locator("td.num");
    expect(await written(joists)).toBe("11");
    await field(page, "Joist spacing, on center").fill("24");
    // Further apart: 150 in at 24 in are seven whole bays and one of 6 in.
    await eventually(() => written(joists)).toBe("8");
    await button(page, "Save the measures").click();
    await reads(page.locator(".zone-foot"), /^Saved/);

    await page.reload();
    await eventually(() => field(page, "Along the house").inputValue()).toBe(`12' 6"`);
    expect(await stored(b)).toMatchObject({
      outline: { shape: "rectangle", lengthIn: 150, widthIn: 123 },
      heightIn: 42,
      framing: { joistSpacingIn: 24 },
    });
    await fits(page);
  });

  test("an outline that crosses itself says so at its corner, is saved all the same, and comes back", async () => {
    const b = await bench(stage, DECK_SHAPE);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, `/jobs/${b.jobId}/zones/${b.deckId}`, "Lower deck");
    await reads(part(page, "Takeoff"), "120 sq ft");
    await choice(page, "Corners").click();
    // The two outer corners change places: the sides between the house and them cross.
    await field(page, "Corner 3, along").fill("0");
    await field(page, "Corner 4, along").fill("12");
    const fault = "Side 2 and side 4 cross or touch; enter the corners in order around the edge.";
    const corner = part(page, "Surface").getByRole("listitem").filter({ hasText: fault });
    await reads(corner, fault);
    await reads(page.locator(".zone-findings"), fault);
    await part(page, "Takeoff").getByText("120 sq ft").waitFor({ state: "detached" });
    await button(page, "Save the measures").click();
    await reads(page.locator(".toasts"), "Saved, with one remark still open.");

    await page.reload();
    await reads(corner, fault);
    expect(await field(page, "Corner 3, along").inputValue()).toBe(`0"`);
    expect((await stored(b))?.outline).toEqual({
      shape: "polygon",
      points: [
        { x: 0, y: 0 },
        { x: 144, y: 0 },
        { x: 0, y: 120 },
        { x: 144, y: 120 },
      ],
    });
    await fits(page);
  });

  test("more joists than exist: remarked while typing, in the way of issuing, let pass only with a reason", async () => {
    const b = await bench(stage, DECK_SHAPE);
    const page = await signedIn(stage, b.c.sales, phone);
    await open(page, b.estimate, /First pass/);
    const form = await writeLine(page, { component: "joist", action: "replace", quantity: "4" });
    const remark = /come out of Lower deck; it has only/;
    await reads(form.getByRole("status"), /\$/);
    expect(await form.getByText(remark).count()).toBe(0);
    await form.getByLabel("How much").fill("30");
    await reads(form, remark);
    await form.getByLabel("How much").fill("4");
    await addWritten(page);

    // The same on a line that is there already: beside it, before it is saved.
    await field(page, "How much: Lower deck, joist").fill("30");
    const beside = page.getByRole("list", { name: "Remarks on Lower deck, joist" });
    await reads(beside, remark);
    await reads(beside, "It can be let pass once what is typed is saved.");
    await field(page, "How much: Lower deck, joist").press("Enter");
    await allSaved(page);
    await button(beside, "Let it pass, because…").waitFor();

    await button(page, "Issue").click();
    await reads(dialog(page), remark);
    expect(await button(dialog(page), "Issue it").isDisabled()).toBe(true);
    const refused = await b.c.sales.post(`/revisions/${b.revisionId}/issue`);
    expect([refused.status, refused.body.detail]).toEqual([409, expect.stringMatching(remark)]);

    // From the dialog to where it stands.
    await button(dialog(page), "Lower deck, joist").click();
    await closed(page);
    await eventually(() => beside.locator(":focus").count()).toBe(1);
    await button(beside, "Let it pass, because…").click();
    await button(dialog(page), "Let it pass").click();
    await reads(dialog(page), "Say why in a few words.");
    const reason = "The drawing lacks the doubled joists under the hot tub.";
    await field(dialog(page), "Because").fill(reason);
    await button(dialog(page), "Let it pass").click();
    await closed(page);
    await reads(beside, `Let pass by The sales`);
    await reads(beside, reason);

    await button(page, "Issue").click();
    await button(dialog(page), "Issue it").click();
    await fits(page);
    await page.getByRole("link", { name: "To the job" }).click();
    await reads(part(page, "Timeline"), reason);
    await fits(page);
  });

  test("no page reported an error", () => {
    expect(stage.errors).toEqual([]);
  });
});
