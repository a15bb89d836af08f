import { describe, expect, it } from "vitest";
import type { EstimateInputError } from "../input-error.ts";
import type { LineRates } from "../pricing/rates.ts";
import { priceRevision } from "../pricing/revision.ts";
import { type NewScope, priceRebuild, type RebuildAssembly } from "./index.ts";

const terms = { overheadBp: 0, marginBp: 5000, materialTaxBp: 0, minimumChargeCents: 0, roundUpToCents: 0 };
/** A unit costs this much, and is priced at twice that. */
const rates = (unitCents: number): LineRates => ({
  materials: [],
  labor: [],
  disposalUnitCents: String(unitCents),
  equipmentUnitCents: "0",
  laborCvBp: 0,
});
const assembly = (
  code: string,
  component: RebuildAssembly["component"],
  action: RebuildAssembly["action"],
  unit: RebuildAssembly["unit"],
  unitCents: number,
): RebuildAssembly => ({ code, component, action, unit, rates: rates(unitCents) });

const book = [
  assembly("DECKING-CLEAN", "decking", "clean", "sqft", 1),
  assembly("DECKING-ADD", "decking", "add", "sqft", 900),
  assembly("DECKING-TREATED", "decking", "replace", "sqft", 1000),
  assembly("DECKING-COMPOSITE", "decking", "replace", "sqft", 1800),
  assembly("JOIST-ADD", "joist", "add", "lf", 500),
  assembly("LEDGER", "ledger", "replace", "lf", 700),
];
const scope = (
  zoneId: string,
  component: NewScope["component"],
  quantity: string,
  unit: NewScope["unit"],
  action: NewScope["action"] = "replace",
): NewScope => ({ zoneId, component, action, quantity, unit });
/** An assembly that takes one material of this name for a unit. */
const taking = (name: string, of: RebuildAssembly): RebuildAssembly => ({
  ...of,
  rates: {
    ...of.rates,
    materials: [
      {
        code: "M",
        name,
        unit: "each",
        section: null,
        packs: [],
        wholePacks: false,
        perUnit: "1",
        wasteBp: 0,
      },
    ],
  },
});

describe("priceRebuild", () => {
  it("takes the assembly that replaces before the one that adds, and the first in the book", () => {
    const { lines, missing } = priceRebuild(
      {
        scope: [scope("deck", "decking", "100", "sqft"), scope("deck", "joist", "80", "lf")],
        assemblies: book,
      },
      terms,
    );
    expect(lines.map((l) => [l.code, l.action, l.price.priceCents])).toEqual([
      ["DECKING-TREATED", "replace", 200_000],
      ["JOIST-ADD", "add", 80_000],
    ]);
    expect(missing).toEqual([]);
  });

  it("takes a preferred assembly where it fits, but not one that only adds over one that replaces", () => {
    const codes = (prefer: string[]) =>
      priceRebuild(
        { scope: [scope("deck", "decking", "1", "sqft")], assemblies: book, prefer },
        terms,
      ).lines.map((l) => l.code);
    expect(codes(["LEDGER", "DECKING-COMPOSITE"])).toEqual(["DECKING-COMPOSITE"]);
    expect(codes(["DECKING-ADD"])).toEqual(["DECKING-TREATED"]);
  });

  it("adds what is not there yet, rather than stripping and replacing it", () => {
    const finishes = [
      assembly("FINISH-STRIP", "finish", "replace", "sqft", 90),
      assembly("FINISH-NEW", "finish", "add", "sqft", 40),
    ];
    const chosen = (assemblies: RebuildAssembly[]) =>
      priceRebuild({ scope: [scope("deck", "finish", "10", "sqft", "add")], assemblies }, terms).lines[0]
        ?.code;
    expect(chosen(finishes)).toBe("FINISH-NEW");
    expect(chosen(finishes.slice(0, 1))).toBe("FINISH-STRIP");
  });

  it.each([
    ["rail", "lf", "Baluster 2x2 x 42 in", "baluster", "each"],
    ["rail", "lf", "Rail cap 2x6", "rail_cap", "lf"],
    ["joist", "each", "Joist hanger for a 2x8", "joist_hanger", "each"],
    ["ledger", "lf", "Ledger flashing, coated", "flashing", "lf"],
  ] as const)(
    "prices what a %s by the %s brings along (%s) once",
    (component, unit, name, part, partUnit) => {
      const main = assembly("MAIN", component, "replace", unit, 1000);
      const own = assembly("PART", part, "replace", partUnit, 100);
      const both = [scope("deck", part, "20", partUnit), scope("deck", component, "10", unit)];
      const price = (assemblies: RebuildAssembly[], items = both) =>
        priceRebuild({ scope: items, assemblies }, terms);
      const bare = price([main, own]);
      expect(bare.lines.map((l) => [l.code, l.within, l.price.priceCents])).toEqual([
        ["PART", false, 4000],
        ["MAIN", false, 20_000],
      ]);
      for (const book of [[taking(name, main), own], [taking(name, main)]]) {
        const whole = price(book);
        expect(whole.lines.map((l) => [l.component, l.code, l.within, l.price.priceCents])).toEqual([
          [part, "MAIN", true, 0],
          [component, "MAIN", false, 20_000],
        ]);
        expect([whole.missing, whole.total.complete]).toEqual([[], true]);
      }
      const elsewhere = [scope("porch", part, "20", partUnit), scope("deck", component, "10", unit)];
      expect(price([taking(name, main), own], elsewhere).lines[0]?.price.priceCents).toBe(4000);
    },
  );

  it.each([
    ["joist", "each", "Joist-hanger nail, hot-dip galvanized", "joist_hanger", "each"],
    ["ledger", "lf", "Flashing tape, butyl, 6 in", "flashing", "lf"],
  ] as const)(
    "does not take a %s by the %s with %s for the whole part",
    (component, unit, name, part, own) => {
      const assemblies = [
        taking(name, assembly("MAIN", component, "replace", unit, 1000)),
        assembly("PART", part, "replace", own, 100),
      ];
      const items = [scope("deck", part, "20", own), scope("deck", component, "10", unit)];
      expect(priceRebuild({ scope: items, assemblies }, terms).lines[0]?.price.priceCents).toBe(4000);
    },
  );

  it("stands beside the repair by zone and in all", () => {
    const line = (zoneId: string, quantity: string, change = {}) => ({
      zoneId,
      quantity,
      by: "us" as const,
      rates: rates(1000),
      ...change,
    });
    const repair = priceRevision(
      {
        lines: [
          line("deck", "30"),
          line("deck", "10"),
          line("deck", "50", { alternate: "Stain" }),
          line("stair", "5"),
          line("porch", "7"),
        ],
        charges: [{ kind: "travel", words: "Trip", costCents: 4000, atCost: false }],
      },
      terms,
    );
    const rebuild = priceRebuild(
      {
        scope: [
          scope("deck", "decking", "100", "sqft"),
          scope("stair", "decking", "10", "sqft"),
          scope("stair", "tread", "4", "each"),
        ],
        assemblies: book,
        charges: [{ kind: "permit", words: "Permit", costCents: 15_000, atCost: true }],
        repair,
      },
      terms,
    );
    expect(rebuild.zones).toEqual([
      { zoneId: "deck", repairCents: 80_000, rebuildCents: 200_000, shareBp: 4000, complete: true },
      { zoneId: "stair", repairCents: 10_000, rebuildCents: 20_000, shareBp: 5000, complete: false },
      { zoneId: "porch", repairCents: 14_000, rebuildCents: 0, shareBp: null, complete: true },
    ]);
    expect(rebuild.totals.priceCents).toBe(220_000 + 15_000);
    expect(rebuild.total).toEqual({
      repairCents: 112_000,
      rebuildCents: 235_000,
      shareBp: 4766,
      complete: false,
    });
    expect(rebuild.missing.map((m) => m.field)).toEqual(["scope[2].component"]);
  });

  it("says what the book lacks: the component, or its unit", () => {
    const { lines, missing, total } = priceRebuild(
      { scope: [scope("deck", "beam", "12", "lf"), scope("deck", "ledger", "2", "each")], assemblies: book },
      terms,
    );
    expect(lines).toEqual([]);
    expect(missing).toEqual([
      {
        field: "scope[0].component",
        words:
          "The price book has no assembly to replace or add beam by the ft; add one to price the rebuild whole.",
      },
      {
        field: "scope[1].unit",
        words: "The price book replaces ledger by the ft only; add an assembly for ledger by the piece.",
      },
    ]);
    expect(total).toEqual({ repairCents: 0, rebuildCents: 0, shareBp: null, complete: false });
  });

  it.each(["-1", "", "twelve"])("refuses the quantity %j and names it", (quantity) => {
    try {
      priceRebuild({ scope: [scope("deck", "decking", quantity, "sqft")], assemblies: book }, terms);
      expect.unreachable();
    } catch (error) {
      expect((error as EstimateInputError).findings?.map((f) => f.field)).toEqual(["scope[0].quantity"]);
    }
  });
});
