import { multiply, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { describe, expect, it } from "vitest";
import { flatRates, material } from "./rates.fixture.ts";
import {
  type LaborUse,
  type LineRates,
  type MaterialUse,
  sameRates,
  unitCents,
  unitOfMaterial,
} from "./rates.ts";

const base = flatRates({
  materialUnitCents: "285.5",
  wasteBp: 1000,
  hoursPerUnit: "0.05",
  laborRateCode: "CARP",
  laborHourlyCents: 4000,
  laborBurdenBp: 3500,
});
const withMaterial = (change: Partial<MaterialUse>): LineRates => ({
  ...base,
  materials: base.materials.map((use) => ({ ...use, ...change })),
});
const withLabor = (change: Partial<LaborUse>): LineRates => ({
  ...base,
  labor: base.labor.map((use) => ({ ...use, ...change })),
});
const again = (): LineRates => structuredClone(base);

describe("sameRates", () => {
  it.each([
    ["a copy", again()],
    [
      "numbers written differently",
      withMaterial({ perUnit: "1.00", packs: [{ size: "10.0", cents: 2855 }] }),
    ],
    ["hours written differently", withLabor({ hoursPerUnit: "0.0500", setupHours: "0.0" })],
    ["disposal written differently", { ...base, disposalUnitCents: "0.00", equipmentUnitCents: "0.0" }],
    ["another name", withMaterial({ name: "Cedar board" })],
    ["another spread of the hours, which moves no price", { ...base, laborCvBp: 9000 }],
  ])("%s is the same", (_name, other) => {
    expect([sameRates(base, other), sameRates(other, base)]).toEqual([true, true]);
  });

  it.each([
    ["another material", withMaterial({ code: "OTHER" })],
    ["another amount", withMaterial({ perUnit: "1.01" })],
    ["another waste", withMaterial({ wasteBp: 1001 })],
    ["whole packs", withMaterial({ wholePacks: true })],
    ["another pack price", withMaterial({ packs: [{ size: "10", cents: 2856 }] })],
    ["another pack size", withMaterial({ packs: [{ size: "11", cents: 2855 }] })],
    [
      "one more pack",
      withMaterial({ packs: [...(base.materials[0]?.packs ?? []), { size: "100", cents: 9 }] }),
    ],
    ["no price any more", withMaterial({ packs: [] })],
    ["one more material", { ...base, materials: [...base.materials, material("1")] }],
    ["no material", { ...base, materials: [] }],
    ["another labor rate", withLabor({ code: "LEAD" })],
    ["another hourly rate", withLabor({ hourlyCents: 4001 })],
    ["another burden", withLabor({ burdenBp: 0 })],
    ["other hours", withLabor({ hoursPerUnit: "0.06" })],
    ["hours to set up", withLabor({ setupHours: "0.25" })],
    ["no labor", { ...base, labor: [] }],
    ["disposal", { ...base, disposalUnitCents: "0.01" }],
    ["equipment", { ...base, equipmentUnitCents: "0.01" }],
    ["no rates", null],
  ])("%s is not the same", (_name, other) => {
    expect([sameRates(base, other), sameRates(other, base)]).toEqual([false, false]);
  });

  it("no rates on either side are the same", () => {
    expect(sameRates(null, null)).toBe(true);
  });
});

describe("unitCents", () => {
  it("is exact: $18.99 for 350 is 1899 / 350 of a cent", () => {
    const each = unitCents([{ size: "350", cents: 1899 }]);
    expect(each && each.num * 350n === 1899n * each.den).toBe(true);
  });

  it("is nothing where no pack has a price, and zero for a pack that is free", () => {
    expect(unitCents([])).toBeNull();
    expect(unitCents([{ size: "2", cents: 0 }])?.num).toBe(0n);
  });

  it.each([
    ["size", { size: "-1", cents: 1 }],
    ["text", { size: "a box", cents: 1 }],
    ["price", { size: "1", cents: -1 }],
  ])("refuses a bad %s even where another pack is cheaper", (_name, bad) => {
    expect(() => unitCents([{ size: "1000", cents: 1 }, bad])).toThrow(RangeError);
  });
});

describe("unitOfMaterial", () => {
  it("is amount x (1 + waste), exactly", () => {
    const use = material("1", { perUnit: "7.0005", wasteBp: 333 });
    // By hand: 7.0005 x 1.0333 = 7.23361665, and 40 times that is 289.344666.
    const { needed } = unitOfMaterial(use);
    expect(toDecimal(multiply(ratio("40"), needed), 6)).toBe("289.344666");
  });
});
