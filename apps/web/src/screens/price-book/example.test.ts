import { describe, expect, it } from "vitest";
import { BOOK } from "./book.fixture.ts";
import { missingCodes, workExample } from "./example.ts";

const RECIPE = BOOK.assemblies[0]?.recipe as (typeof BOOK.assemblies)[number]["recipe"];

describe("workExample", () => {
  it("prices twenty feet, worked by hand", () => {
    // Boards: 20 x 1.1 x $1 = $22; tax $1.32; labor: 1 h x $30 x 1.3 = $39; overhead 10% of $62.32 = $6.23;
    // $68.55 / 0.7 = $97.93. Three boards of 8 ft cost $24, $2 more than is used: with tax $0.12, overhead $0.21 and
    // the margin, $2.33 / 0.7 = $3.33.
    const worked = workExample(RECIPE, BOOK, { quantity: "20", salt: false });
    expect(worked).toMatchObject({
      example: { priceCents: 9793, eachCents: 490, hours: "1", leftoverCents: 333 },
    });
    if (!("example" in worked)) throw new Error("no example");
    expect(worked.example.rows.reduce((sum, { cents }) => sum + cents, 0)).toBe(9793);
    expect(worked.example.purchases).toMatchObject([
      { code: "BOARD", needed: "22", packs: [{ size: "8", count: 3 }], packsCents: 2400 },
    ]);
  });
  it("takes the substitute near salt", () => {
    const worked = workExample(RECIPE, BOOK, { quantity: "20", salt: true });
    expect(worked).toMatchObject({ example: { purchases: [{ code: "BOARD-SALT", packsCents: 4800 }] } });
  });
  it("keeps the minimum charge and the rounding out: they are the whole estimate's", () => {
    const free = { ...BOOK, minimumCharge: { cents: 0, currency: "USD" as const } };
    expect(workExample(RECIPE, BOOK, { quantity: "1", salt: false })).toEqual(
      workExample(RECIPE, free, { quantity: "1", salt: false }),
    );
  });
  it("names what the book lacks, and says when a price is beyond reason", () => {
    const lacking = { ...RECIPE, labor: [{ code: "mason", hoursPerUnit: "1", setupHours: "0" }] };
    expect(workExample(lacking, BOOK, { quantity: "1", salt: false })).toMatchObject({
      findings: [{ field: "labor[0].code" }],
    });
    const dear = { ...RECIPE, disposalUnitCents: "5000000" };
    expect(workExample(dear, BOOK, { quantity: "100000", salt: false })).toMatchObject({
      words: expect.stringContaining("$10,000,000"),
    });
  });
});

describe("missingCodes", () => {
  it("finds what is lacking away from salt and near it, each once", () => {
    expect(missingCodes(RECIPE, BOOK)).toEqual([]);
    const recipe = {
      ...RECIPE,
      materials: [{ code: "BOARD", inSalt: "GONE", perUnit: "1", wasteBp: 0 }],
      labor: [{ code: "mason", hoursPerUnit: "1", setupHours: "0" }],
    };
    expect(missingCodes(recipe, BOOK).map(({ field }) => field)).toEqual([
      "labor[0].code",
      "materials[0].inSalt",
    ]);
  });
});
