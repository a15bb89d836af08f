import { localDay } from "@ledgerboard/api/days";
import { addDays, weekday } from "@ledgerboard/contracts/dates";
import type { Locator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { picture, raiseCurtain, type Stage } from "./browser.ts";

/**
 * One job from the telephone to a finished deck, in real browsers, each step by the person whose work it is: owner,
 * sales, senior estimator (on a phone), scheduler, crew lead. Then a stranger looks for it.
 */
const PASSWORD = "nine crews in the rain";
const people = {
  sales: "Dana Whitcombe",
  "senior estimator": "Ove Sandersund",
  scheduler: "Mina Farrow",
  "crew lead": "Tobias Renn",
} as const;
type Who = keyof typeof people;

/** Today at the company; the browsers' sessions run on the real clock, so the story does too. */
const TODAY = localDay(new Date(), "America/New_York");
/** The first Monday at least a week ahead. */
const START = addDays(TODAY, 15 - weekday(TODAY));

let stage: Stage;
let owner: Page;
const pages = {} as Record<Who, Page>;
let jobUrl = "";

beforeAll(async () => {
  stage = await raiseCurtain();
}, 180_000);
afterEach(async ({ task }) => {
  if (task.result?.state === "fail") await stage.pictures();
});
afterAll(() => stage?.close());

const button = (within: Page | Locator, name: string | RegExp) =>
  within.getByRole("button", { name, exact: typeof name === "string" });
const dialog = (page: Page) => page.getByRole("dialog");
const part = (page: Page, title: string) => page.getByRole("region", { name: title, exact: true });
const settled = (page: Page) => page.getByRole("dialog").waitFor({ state: "detached" });

async function signUp(page: Page, company: string, name: string, email: string): Promise<void> {
  await page.goto("/sign-up");
  await page.getByLabel("Name of the company").fill(company);
  await page.getByLabel("State").selectOption("MD");
  await page.getByLabel("Time zone").selectOption("America/New_York");
  await page.getByLabel("Your name").fill(name);
  await page.getByLabel("Mail address").fill(email);
  await page.getByLabel("Password", { exact: true }).fill(PASSWORD);
  await button(page, "Open the company").click();
  await inside(page);
}

/** Signed in: the navigation is there. */
const inside = (page: Page) => page.getByRole("navigation", { name: "Screens" }).first().waitFor();

async function openJob(page: Page): Promise<void> {
  await page.goto(jobUrl);
  await page.getByRole("heading", { level: 1, name: /Porch floor|Quist/ }).waitFor();
}

test("the owner opens the company and invites one person for each role, who join by the link", async () => {
  owner = await stage.person();
  await signUp(owner, "Journey Carpentry", "Ada Marsh", "ada@journey.example");
  await owner.goto("/members");
  for (const [role, name] of Object.entries(people)) {
    await button(owner, "Invite somebody").click();
    await dialog(owner).getByLabel("Name").fill(name);
    await dialog(owner)
      .getByLabel("Mail address")
      .fill(`${name.split(" ")[0]?.toLowerCase()}@journey.example`);
    await dialog(owner)
      .getByRole("checkbox", { name: new RegExp(`^${role}`) })
      .check({ force: true });
    await button(dialog(owner), "Send the invitation").click();
    await settled(owner);
  }
  await owner.goto("/outbox");
  for (const role of Object.keys(people) as Who[]) {
    const name = people[role];
    const address = `${name.split(" ")[0]?.toLowerCase()}@journey.example`;
    const letter = owner.locator("details", { hasText: address });
    await letter.locator("summary").click();
    const link = /\/join\/[A-Za-z0-9_-]{43}/.exec((await letter.textContent()) ?? "")?.[0];
    expect(link, `the invitation of ${name}`).toBeTruthy();
    const page = await stage.person(role === "senior estimator" ? { phone: true, dark: true } : {});
    await page.goto(link ?? "");
    await page.getByLabel("Password", { exact: true }).fill(PASSWORD);
    await button(page, "Join").click();
    await inside(page);
    pages[role] = page;
  }
});

test("sales takes the call, looks, writes the first pass and gets it signed", async () => {
  const page = pages.sales;
  await page.getByRole("link", { name: "Take an inquiry" }).first().click();
  await page.getByLabel("Name").fill("Maribel Quist");
  await page.getByLabel("Phone").fill("(410) 555-0150");
  await page.getByLabel("Street and number").fill("14 Alder Lane");
  await page.getByLabel("City").fill("Catonsville");
  await page.getByLabel("Postal code").fill("21228");
  await page.getByLabel("In their words").fill("The porch floor is soft near the steps.");
  await page.getByLabel("In short").fill("Porch floor");
  await button(page, "Open the job").click();
  const href = await page.getByRole("link", { name: /^Open JC-/ }).getAttribute("href");
  jobUrl = href ?? "";
  expect(jobUrl).toMatch(/^\/jobs\/[0-9a-f-]{36}/);
  await openJob(page);

  await button(part(page, "Visits"), "Schedule a visit").click();
  await dialog(page)
    .getByLabel("Day and time")
    .fill(`${addDays(TODAY, 1)}T10:00`);
  await button(dialog(page), "Set the visit").click();
  await settled(page);

  for (const [name, kind] of [
    ["Porch floor", "porch"],
    ["Back stair", "stair"],
  ] as const) {
    await button(part(page, "Zones"), /Add a zone/).click();
    await dialog(page).getByLabel("Name").fill(name);
    await dialog(page).getByLabel("Kind").selectOption(kind);
    await button(dialog(page), "Add the zone").click();
    await settled(page);
  }
  await button(part(page, "Estimate"), "Start the first pass").click();
  await button(page.getByRole("alertdialog"), "Start").click();
  await page.waitForURL(/estimate/);
  await addLine(page, "Porch floor", "decking", "replace", "214");
  await addLine(page, "Back stair", "stringer", "replace", "5");
  await issue(page);
  await page.getByRole("link", { name: "To the job" }).click();

  await quoteAndSign(page);
  await expect.poll(() => page.getByText("accepted").first().isVisible()).toBe(true);
});

async function addLine(
  page: Page,
  zone: string,
  component: string,
  action: string,
  quantity: string,
): Promise<void> {
  const form = page.getByRole("form", { name: `A new line in ${zone}` });
  if (!(await form.isVisible())) await button(page, `Add a line to ${zone}`).click();
  await form.getByLabel("Component").selectOption(component);
  await form.getByLabel("What is done").selectOption(action);
  const assembly = form.getByLabel("Assembly");
  if ((await assembly.inputValue()) === "") await assembly.selectOption({ index: 1 });
  await form.getByLabel("How much").fill(quantity);
  const why = form.getByLabel("Why it is new");
  if (await why.isVisible()) {
    await why.selectOption("missed");
    await form.getByLabel("In a few words").fill("Rusted through at grade.");
  }
  await button(form, "Add it").click();
  await expect.poll(() => form.getByLabel("How much").inputValue()).toBe("");
  await button(form, /No more lines|Leave it/).click();
}

async function issue(page: Page): Promise<void> {
  await button(page, /^Issue/)
    .first()
    .click();
  await button(dialog(page), "Issue it").click();
  await page.getByRole("link", { name: "To the job" }).waitFor();
}

async function quoteAndSign(page: Page): Promise<void> {
  await button(part(page, "Quotes"), "Issue a quote").click();
  await button(dialog(page), "Issue the quote").click();
  await settled(page);
  await button(part(page, "Quotes"), "Record the signature").click();
  await dialog(page).getByLabel("Signed by").fill("Maribel Quist");
  await dialog(page).getByText("In your office").click();
  await button(dialog(page), "Record the signature").click();
  await settled(page);
}

test("the senior estimator finds on site, on a phone, that the first pass is wrong", async () => {
  const page = pages["senior estimator"];
  await openJob(page);
  await button(part(page, "Estimate"), "Start the site review").click();
  await button(page.getByRole("alertdialog"), "Start").click();
  await page.waitForURL(/estimate/);

  await button(page, /^Change .*[Ss]tringer/).click();
  const form = page.locator(".est-form");
  await form.getByRole("radio", { name: "keep" }).click();
  await form.getByRole("radio", { name: "misjudged condition" }).click();
  await form.getByLabel("In a few words").fill("Probed at 12 places, dry.");
  await picture(page, "site-review-phone");
  await button(form, /Done|Save|Close/)
    .first()
    .click();
  await button(page, /^As estimated: .*[Dd]ecking/).click();
  await addLine(page, "Porch floor", "post", "repair", "6");
  await issue(page);
  await page.getByRole("link", { name: "See what changed" }).click();
  await page.getByRole("heading", { level: 1 }).waitFor();
  await expect
    .poll(() =>
      page
        .getByText(/material/i)
        .first()
        .isVisible(),
    )
    .toBe(true);
  await picture(page, "comparison-phone");
});

test("the customer signs the changed quote and the deposit comes in, within the state's limit", async () => {
  const page = pages.sales;
  await openJob(page);
  await expect
    .poll(() =>
      page
        .getByText(/no longer stands|void/i)
        .first()
        .isVisible(),
    )
    .toBe(true);
  await quoteAndSign(page);
  await button(part(page, "Deposit and payments"), "Ask for the deposit").click();
  await dialog(page).getByLabel("Due on").fill(addDays(TODAY, 7));
  await button(dialog(page), "Ask for it").click();
  await settled(page);
  await button(part(page, "Deposit and payments"), "Enter money received").click();
  await button(dialog(page), "Enter the receipt").click();
  await settled(page);
});

test("the scheduler forms a crew and books it from the crew sheet", async () => {
  const page = pages.scheduler;
  await page.goto("/crews");
  await button(page, "Form a crew").first().click();
  await dialog(page).getByLabel("Name").fill("Alder");
  await dialog(page).getByLabel("Who").fill(`${people["crew lead"]} (lead)\nIda Brook\nSam Lund`);
  await button(dialog(page), "Form the crew").click();
  await settled(page);
  await button(page, "Place a crew").click();
  await dialog(page).getByLabel("Crew", { exact: true }).selectOption({ index: 1 });
  await dialog(page).getByLabel("First day").fill(START);
  await button(dialog(page), "Book the crew").click();
  await settled(page);
  await button(page, "Later").click();
  await button(page, /Maribel Quist/).waitFor();
});

test("the crew lead starts and finishes, and everybody sees it at once", async () => {
  await openJob(owner);
  const page = pages["crew lead"];
  await openJob(page);
  await button(part(page, "Crew"), "Work has started").click();
  await button(page.getByRole("alertdialog"), "Work has started").click();
  // The owner's page was open all the while: the change arrives by itself.
  await expect
    .poll(
      () =>
        owner
          .getByText(/under way/i)
          .first()
          .isVisible(),
      { timeout: 15_000 },
    )
    .toBe(true);
  await button(part(page, "Crew"), "Work is finished").click();
  await dialog(page).getByLabel("Hours it really took").fill("38.5");
  await button(dialog(page), "Work is finished").click();
  await settled(page);
  await expect
    .poll(
      () =>
        owner
          .getByText(/finished/i)
          .first()
          .isVisible(),
      { timeout: 15_000 },
    )
    .toBe(true);
});

test("a second company sees none of it, and no page reported an error", async () => {
  const stranger = await stage.person();
  await signUp(stranger, "Other Carpentry", "Rolf Stone", "rolf@other.example");
  await stranger.goto(jobUrl);
  await stranger.getByText("This could not be shown").waitFor();
  expect(await stranger.getByText("Quist").count()).toBe(0);
  await stranger.goto("/customers");
  await stranger.getByText("No customers yet").waitFor();
  expect(stage.errors).toEqual([]);
});
