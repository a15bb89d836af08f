import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import type { Zone } from "@ledgerboard/contracts/jobs";
import { chanceOfLoss, type LineRates } from "@ledgerboard/estimating";
import { describe, expect, it } from "vitest";
import { byZone, madeOf } from "./bill-parts.ts";
import type { Draft } from "./desk.ts";
import { toEdit } from "./edit.ts";
import { scopeLine } from "./line.fixture.ts";
import { pricer } from "./prices.ts";
import { chanceWords, marginReaching, priceAtMarginOf, pricesAtChances, spreadOf } from "./risk.ts";

const rates: LineRates = {
  materials: [
    {
      code: "BOARD",
      name: "Board",
      unit: "each",
      section: null,
      packs: [{ size: "10", cents: 3333 }],
      wholePacks: true,
      perUnit: "1",
      wasteBp: 1000,
    },
  ],
  labor: [{ code: "carpenter", hoursPerUnit: "0.37", setupHours: "1", hourlyCents: 3450, burdenBp: 3150 }],
  disposalUnitCents: "12.5",
  equipmentUnitCents: "7",
  laborCvBp: 3000,
};
const terms = {
  overheadBp: 1530,
  marginBp: 2970,
  materialTaxBp: 600,
  minimumChargeCents: 50_000,
  roundUpToCents: 1000,
  laborCorrelationBp: 3000,
};
const line = (id: string, change: Partial<ScopeLine> = {}) =>
  scopeLine({ id, lineageId: id, rates, quantity: "7", ...change });
const draftOf = (stored: ScopeLine, quantity: string | null): Draft => ({
  edit: { ...toEdit(stored), quantity },
  seen: stored,
  reviewed: undefined,
  standing: "waiting",
  error: null,
  theirs: null,
});
const lines = [
  line("a"),
  line("b", { zoneId: "zone-2", quantity: "13.25" }),
  line("extra", { alternate: "Staining" }),
  line("owner", { by: "owner" }),
];
const charges = [{ kind: "permit" as const, words: "permit", costCents: 18_501, atCost: true }];
const zone = (id: string): Zone => ({
  id,
  name: id,
  kind: "deck",
  lengthFt: null,
  widthFt: null,
  heightFt: null,
  geometry: null,
  evidence: "assumed",
  notes: "",
  version: 1,
});
const zones = [zone("zone-1"), zone("zone-2")];
const rows = (drafts: Record<string, Draft> = {}) =>
  lines.map((one) => ({ line: one, draft: drafts[one.id] }));
const price = () => pricer({ book: undefined, terms, salt: false });

describe("a draft priced while it is typed", () => {
  it("prices as a whole: extras and what others do stay beside the sum", () => {
    const { whole, priced } = price()(rows(), charges);
    expect(priced.get("extra")?.standing).toBe("alternate");
    expect(priced.get("owner")).toMatchObject({ standing: "not_ours", price: { priceCents: 0 } });
    const base = ["a", "b"].map((id) => priced.get(id)?.price.priceCents ?? 0);
    const added = whole.adjustments.map((one) => one.price.priceCents);
    expect([...base, 18_501, ...added].reduce((x, y) => x + y, 0)).toBe(whole.totals.priceCents);
    expect(whole.totals.priceCents % 1000).toBe(0);
    expect(whole.alternates.map(({ name }) => name)).toEqual(["Staining"]);
  });
  it("leaves out a line without a quantity or beyond reason, and keeps the others", () => {
    const of = price();
    const [a] = lines as [ScopeLine];
    expect(of(rows({ a: draftOf(a, null) }), charges).priced.has("a")).toBe(false);
    const absurd = of(rows({ a: draftOf(a, "9999999") }), charges);
    expect(absurd.priced.has("a")).toBe(false);
    expect(absurd.priced.get("b")?.price.priceCents).toBeGreaterThan(0);
  });
  it("keeps what nobody touched as it was, so that it is not drawn again", () => {
    const of = price();
    const [a] = lines as [ScopeLine];
    const first = of(rows(), charges);
    const next = of(rows({ a: draftOf(a, "8") }), charges);
    expect(next.priced.get("b")).toBe(first.priced.get("b"));
    expect(next.priced.get("a")).not.toBe(first.priced.get("a"));
    expect(next.priced.get("a")?.line.quantity).toBe("8");
  });
});

describe("the bill", () => {
  const { whole } = price()(rows(), charges);
  it("adds up by zone to what the lines come to", () => {
    const parts = byZone(whole, zones);
    expect(parts.map(({ name }) => name)).toEqual(["zone-1", "zone-2"]);
    expect(parts.reduce((sum, { cents }) => sum + cents, 0)).toBe(
      whole.lines.reduce((sum, one) => sum + (one.standing === "base" ? one.price.priceCents : 0), 0),
    );
  });
  it("is made of parts that each add up, and together to the price, to the cent", () => {
    const parts = madeOf(whole, zones);
    expect(parts.map(({ key }) => key)).toEqual([
      "material",
      "tax",
      "labor",
      "disposal",
      "equipment",
      "overhead",
      "margin",
      "reaching",
    ]);
    for (const part of parts) expect(part.parts.reduce((sum, { cents }) => sum + cents, 0)).toBe(part.cents);
    expect(parts.reduce((sum, { cents }) => sum + cents, 0)).toBe(whole.totals.priceCents);
    const cost = parts.filter(({ key }) => key !== "margin" && key !== "reaching");
    expect(cost.reduce((sum, { cents }) => sum + cents, 0)).toBe(whole.totals.costCents);
    expect(parts[0]?.cents).toBe(whole.totals.materialCents);
    expect(parts[2]?.cents).toBe(whole.totals.laborCents);
  });
});

describe("what it may cost", () => {
  const { whole } = price()(rows(), charges);
  const spread = spreadOf(whole, terms);
  const priceAt = priceAtMarginOf(whole.lines, whole.charges, terms);
  it("draws the same figures every time, about what was priced", () => {
    expect(spreadOf(whole, terms)?.p50Cents).toBe(spread?.p50Cents);
    expect(Math.abs((spread?.meanCents ?? 0) / whole.totals.costCents - 1)).toBeLessThan(0.01);
  });
  it("says nothing of an estimate without a cost", () => {
    expect(spreadOf(price()([], []).whole, terms)).toBeNull();
  });
  it("finds the smallest margin that reaches a price, with the charges passed on at cost", () => {
    const wanted = whole.totals.priceCents + 100_000;
    const margin = marginReaching(wanted, priceAt) ?? 0;
    expect(margin).toBeGreaterThan(terms.marginBp);
    expect(priceAt(margin)).toBeGreaterThanOrEqual(wanted);
    expect(priceAt(margin - 1)).toBeLessThan(wanted);
    expect(marginReaching(0, priceAt)).toBe(0);
    expect(marginReaching(Number.MAX_SAFE_INTEGER, priceAt)).toBeNull();
  });
  it("offers prices that fall as more risk is taken, each at most at its chance", () => {
    if (!spread) throw new Error("Something is priced, so it spreads.");
    const offers = pricesAtChances(whole, terms);
    expect(offers.map(({ chanceBp }) => chanceBp)).toEqual([500, 1000, 2000, 3000, 5000]);
    for (const { chanceBp, priceCents, givesCents } of offers) {
      expect(givesCents).toBeGreaterThanOrEqual(priceCents);
      const above = spread.sortedCents.filter((cents) => cents > (givesCents ?? 0)).length;
      expect((above * 10_000) / spread.draws).toBeLessThanOrEqual(chanceBp);
    }
    const prices = offers.map(({ priceCents }) => priceCents);
    expect(prices).toEqual(prices.toSorted((a, b) => b - a));
  });
  it("offers a margin at which the chance holds, also where it moves what the customer pays for found work", () => {
    const allowance = {
      chanceBp: 6000,
      lowQuantity: "5",
      highQuantity: "60",
      capQuantity: "60",
      charge: "if_found" as const,
    };
    const found = line("found", { evidence: "concealed", quantity: "20", allowance });
    const wide = { ...terms, marginBp: 5000 };
    const of = pricer({ book: undefined, terms: wide, salt: false });
    const all = of([...rows(), { line: found, draft: undefined }], charges).whole;
    for (const { chanceBp, marginBp } of pricesAtChances(all, wide)) {
      const then = { ...terms, marginBp: marginBp ?? 0 };
      const set = pricer({ book: undefined, terms: then, salt: false });
      const { whole: now } = set([...rows(), { line: found, draft: undefined }], charges);
      const drawn = spreadOf(now, then);
      if (!drawn) throw new Error("Something is priced, so it spreads.");
      expect(chanceOfLoss(drawn, now.totals.priceCents)).toBeLessThan(chanceBp + 50);
    }
  });
  it("tells a chance in whole percent, never none where there is some", () => {
    if (!spread) throw new Error("Something is priced, so it spreads.");
    const sorted = spread.sortedCents;
    expect(chanceWords(spread, Math.ceil(sorted[sorted.length - 1] ?? 0))).toBe("0%");
    expect(chanceWords(spread, Math.ceil(sorted[sorted.length - 5] ?? 0))).toBe("under 1%");
    expect(chanceWords(spread, 0)).toBe("100%");
    expect(chanceWords(spread, spread.p90Cents)).toBe("10%");
  });
});

it("a line whose allowance is not complete, or contradicts itself, waits beside the sum", () => {
  const of = price();
  const [a] = lines as [ScopeLine];
  const begun = {
    chanceBp: 2500,
    lowQuantity: "1",
    highQuantity: "9",
    capQuantity: "9",
    charge: "included" as const,
  };
  const typed = (allowance: Draft["edit"]["allowance"]): Draft => {
    const draft = draftOf(a, "7");
    return { ...draft, edit: { ...draft.edit, evidence: "concealed", allowance } };
  };
  expect(of(rows({ a: typed({ ...begun, chanceBp: null }) }), []).priced.has("a")).toBe(false);
  expect(of(rows({ a: typed({ ...begun, highQuantity: "6" }) }), []).priced.has("a")).toBe(false);
  const whole = of(rows({ a: typed(begun) }), []).priced.get("a");
  expect(whole?.standing).toBe("base");
  expect(whole?.price.priceCents).toBeLessThan(of(rows(), []).priced.get("a")?.price.priceCents ?? 0);
});
