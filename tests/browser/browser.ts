import { mkdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { CHROMIUM_ARGS, chromiumPath } from "../../scripts/chromium-path.ts";
import { buildWeb, WEB_ROOT } from "../../scripts/web-build.ts";
import { type Harness, startHarness } from "../support/harness.ts";

const SHOTS = resolve(import.meta.dirname, "..", "..", "test-results");
const WAIT_MS = 15_000;

export interface Stage {
  harness: Harness;
  /** Opens a browser of one person's own: cookies are not shared. */
  person(options?: { phone?: boolean; dark?: boolean }): Promise<Page>;
  /** Keeps a picture of every open page, for whoever looks into a failure. */
  pictures(): Promise<void>;
  /** Errors any page printed; a test that ends with some has found a fault. */
  errors: string[];
  close(): Promise<void>;
}

/** The real server with the built web app, and a real browser in front of it. */
export async function raiseCurtain(): Promise<Stage> {
  await buildWeb();
  const harness = await startHarness({}, { webRoot: WEB_ROOT });
  const address = harness.app.server.address();
  const port = typeof address === "object" && address ? address.port : 0;
  const browser: Browser = await chromium.launch({
    executablePath: await chromiumPath(),
    args: [...CHROMIUM_ARGS],
  });
  const contexts: BrowserContext[] = [];
  const errors: string[] = [];
  return {
    harness,
    errors,
    async person({ phone = false, dark = false } = {}) {
      const context = await browser.newContext({
        baseURL: `http://127.0.0.1:${port}`,
        viewport: phone ? { width: 390, height: 844 } : { width: 1440, height: 900 },
        colorScheme: dark ? "dark" : "light",
        ...(phone && { hasTouch: true, isMobile: true }),
      });
      context.setDefaultTimeout(WAIT_MS);
      contexts.push(context);
      const page = await context.newPage();
      page.on("pageerror", (error) => errors.push(error.message));
      page.on("console", (message) => {
        // The browser itself reports refused requests; those are looked at in the tests that cause them.
        if (message.type() === "error" && !/Failed to load resource/.test(message.text()))
          errors.push(message.text());
      });
      return page;
    },
    async pictures() {
      const pages = contexts.flatMap((context) => context.pages());
      await Promise.all(pages.map((page, at) => picture(page, `failure-${at + 1}`)));
    },
    async close() {
      await Promise.all(contexts.map((context) => context.close()));
      await browser.close();
      await harness.close();
    },
  };
}

/** Keeps a picture of the page for whoever looks into a failure. */
export async function picture(page: Page, name: string): Promise<void> {
  await mkdir(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`), fullPage: true });
}
