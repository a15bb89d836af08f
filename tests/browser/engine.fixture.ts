import type { Revision } from "@ledgerboard/contracts/estimates";
import { formatMoney } from "@ledgerboard/contracts/money";
import type { Locator, Page } from "playwright-core";
import { expect } from "vitest";
import { jobWithZones, start } from "../api/estimating.fixture.ts";
import { companyWithStarter } from "../api/price-book.fixture.ts";
import { taken } from "../support/fixtures.ts";
import type { Client, TestCompany } from "../support/harness.ts";
import type { Stage } from "./browser.ts";

/** The windows the engine is used in: on a desk, and on a phone of 390 px. */
export const WINDOWS = [
  { window: "on a desk", phone: false },
  { window: "on a phone of 390 px", phone: true },
];

/** The day of these tests. */
export const NOW = "2026-11-25T15:00:00Z";

export const button = (within: Page | Locator, name: string | RegExp) =>
  within.getByRole("button", { name, exact: typeof name === "string" });
export const choice = (within: Page | Locator, name: string | RegExp) =>
  within.getByRole("radio", { name, exact: typeof name === "string" });
export const field = (within: Page | Locator, label: string) => within.getByLabel(label, { exact: true });
export const dialog = (page: Page) => page.getByRole("dialog");
export const part = (page: Page, title: string) => page.getByRole("region", { name: title, exact: true });
/** The dialog has done its work and closed by itself. */
export const closed = (page: Page) => dialog(page).waitFor({ state: "detached" });
/** Waits until the text stands there, in sight. */
export const reads = (within: Page | Locator, text: string | RegExp) =>
  within.getByText(text).first().waitFor();
export const money = (amount: { cents: number }) => formatMoney(amount.cents);
/** Looks again until it is so, as long as a loaded machine may take. */
export const eventually = <T>(look: () => T | Promise<T>): ReturnType<typeof expect.poll<T>> =>
  expect.poll(look, { timeout: 15_000 });
/** All that is written in a place, on one line. */
export const written = async (place: Locator): Promise<string> =>
  ((await place.textContent()) ?? "").replace(/\s+/g, " ").trim();

/** A browser in which somebody of the company is signed in. */
export async function signedIn(stage: Stage, { cookie }: Client, phone: boolean): Promise<Page> {
  const page = await stage.person({ phone });
  const [name = "", value = ""] = cookie.split("=");
  await page.context().addCookies([{ name, value, domain: "127.0.0.1", path: "/" }]);
  return page;
}

/** Opens a screen and waits for its heading. */
export async function open(page: Page, address: string, heading: string | RegExp): Promise<void> {
  await page.goto(address);
  await page.getByRole("heading", { level: 1, name: heading }).waitFor();
}

/** Nothing stands out at the side: the screen only scrolls down. */
export async function fits(page: Page): Promise<void> {
  const [wide, room] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect(wide, `width of ${page.url()} in a window of ${room}`).toBeLessThanOrEqual(room as number);
}

export interface Bench {
  c: TestCompany;
  jobId: string;
  deckId: string;
  /** A draft first pass, without lines. */
  revisionId: string;
  estimate: string;
}

/** A company with the price book signing up gives, a job, its lower deck as drawn, and a draft begun by sales. */
export async function bench(stage: Stage, shape: object | null = null): Promise<Bench> {
  const c = await companyWithStarter(stage.harness);
  const { jobId, deckId, stairId } = await jobWithZones(stage.harness, c);
  taken(await c.sales.delete(`/zones/${stairId}`));
  if (shape) taken(await c.sales.patch(`/zones/${deckId}`, { geometry: shape, evidence: "measured" }, 1));
  const revisionId = await start(c.sales, jobId, "first_pass");
  return { c, jobId, deckId, revisionId, estimate: `/jobs/${jobId}/estimate/${revisionId}` };
}

export const readDraft = async ({ c, revisionId }: Bench): Promise<Revision> =>
  taken<Revision>(await c.sales.get(`/revisions/${revisionId}`));

/** The price below everything on the estimating screen. */
export const priceShown = (page: Page) => written(page.locator(".est-foot-sum b"));
export const allSaved = (page: Page) => reads(page.locator(".est-foot"), "All saved");

export interface Work {
  component: string;
  action: string;
  quantity: string;
  /** Else the one the screen offers first. */
  assembly?: string;
}

/** Fills in the next line of the lower deck, without adding it. */
export async function writeLine(
  page: Page,
  { component, action, quantity, assembly }: Work,
): Promise<Locator> {
  const form = page.getByRole("form", { name: "A new line in Lower deck" });
  if (!(await form.isVisible())) await button(page, "Add a line to Lower deck").click();
  await form.getByLabel("Component").selectOption(component);
  await form.getByLabel("What is done").selectOption(action);
  if (assembly) await form.getByLabel("Assembly").selectOption(assembly);
  await form.getByLabel("How much").fill(quantity);
  return form;
}

/** Adds what is written in the form of a new line, and puts the form away. */
export async function addWritten(page: Page): Promise<void> {
  const form = page.getByRole("form", { name: "A new line in Lower deck" });
  await button(form, "Add it").click();
  await eventually(() => form.getByLabel("Component").inputValue()).toBe("");
  await button(form, /No more lines|Leave it/).click();
  await form.waitFor({ state: "detached" });
}
