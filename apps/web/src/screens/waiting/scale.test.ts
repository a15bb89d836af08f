import { addDays } from "@ledgerboard/contracts/dates";
import type { JobRow } from "@ledgerboard/contracts/jobs";
import { expect, it } from "vitest";
import { makeScale, shape, ticks } from "./scale.ts";
import { told } from "./tell.ts";

const today = "2026-11-29";
const job = (waitedDays: number, more: Partial<JobRow> = {}): JobRow => ({
  id: "01900000-0000-7000-8000-000000000001",
  number: "HP-26-0131",
  title: "main stair",
  customerName: "Ines Calloway",
  city: "Severna Park",
  stage: "accepted",
  hazard: null,
  pinnedWhy: null,
  inquiryOn: addDays(today, -waitedDays),
  waitedDays,
  daysLate: 0,
  passed: [],
  promised: null,
  startOn: null,
  price: null,
  holds: [],
  next: { act: "book", owedBy: "scheduler", words: "Scheduler: place a crew" },
  version: 1,
  ...more,
});

it("draws a plank as long as the days waited", () => {
  const rows = [job(20), job(40), job(60)];
  const scale = makeScale(rows, today);
  const [a, b, c] = rows.map((row) => shape(row, scale)).map((s) => s.right - s.left);
  expect(b).toBeCloseTo(2 * (a ?? 0), 9);
  expect(c).toBeCloseTo(3 * (a ?? 0), 9);
});
it("lets the overdue part begin the day after the promised window", () => {
  const row = job(60, {
    daysLate: 19,
    promised: { from: "2026-11-03", to: "2026-11-10", probabilityBp: null },
  });
  const scale = makeScale([row], today);
  const s = shape(row, scale);
  expect(s.mark).toBeCloseTo(scale.at("2026-11-11"), 9);
  expect(s.right).toBeCloseTo(scale.at(today), 9);
});
it("tears planks that are older than the scale, which the many decide", () => {
  const rows = [...Array.from({ length: 19 }, () => job(30)), job(900)];
  const scale = makeScale(rows, today);
  expect(shape(job(900), scale).torn).toBe(true);
  expect(shape(job(30), scale).torn).toBe(false);
});
it("keeps month names off the word today", () => {
  const scale = makeScale([job(30)], today);
  expect(ticks(scale).map((tick) => tick.on)).not.toContain("2026-12-01");
  expect(ticks(scale).map((tick) => tick.on)).toContain("2026-11-01");
});
it("tells a row in words", () => {
  const row = job(84, {
    hazard: "tread loose",
    daysLate: 19,
    promised: { from: "2026-11-03", to: "2026-11-10", probabilityBp: null },
    holds: [{ hold: "deposit_short", why: "" }],
  });
  expect(told(row, today)).toBe(
    "HP-26-0131 Ines Calloway, main stair, Severna Park. Danger: tread loose. " +
      "Accepted, waited 84 days, promised 3–10 Nov, 19 days late. Held: deposit short. " +
      "Next, scheduler: place a crew.",
  );
});
