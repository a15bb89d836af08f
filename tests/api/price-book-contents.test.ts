import type { Response } from "supertest";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import {
  assemblyOf,
  companyWithStarter,
  GATE_WORK,
  materialOf,
  POST_SLEEVE,
  rateOf,
  readBook,
  unitPriceByHand,
  usd,
} from "./price-book.fixture.ts";

let h: Harness;
let c: TestCompany;
let bookId: string;
const at = (path: string) => `/price-books/${bookId}${path}`;
const faults = ({ status, body }: Response) => [
  status,
  ...(body.errors ?? []).map((e: { path: string; message: string }) => e.path),
];
const wordsOf = async (entityId: string): Promise<string[]> => {
  const { rows } = await h.admin.query(
    "SELECT words FROM audit_entries WHERE company_id = $1 AND entity_id = $2 ORDER BY id",
    [c.companyId, entityId],
  );
  return rows.map((r) => r.words as string);
};
/** A recipe with some of its parts changed. */
const recipe = (change: object) => ({ ...GATE_WORK, recipe: { ...GATE_WORK.recipe, ...change } });
const take = (code: string, inSalt: string | null = null) => ({ code, inSalt, perUnit: "1", wasteBp: 0 });

beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithStarter(h);
  bookId = (await readBook(c.owner)).id;
});
afterAll(() => h.close());

describe("materials", () => {
  it("are added once however often they are sent, and a code only once", async () => {
    const key = "add-post-sleeve-0001";
    const first = await c.estimator.post(at("/materials"), POST_SLEEVE, { key });
    expect(first.status).toBe(201);
    expect(first.body).toMatchObject({ ...POST_SLEEVE, retired: false, version: 1 });
    expect((await c.estimator.post(at("/materials"), POST_SLEEVE, { key })).body).toEqual(first.body);
    expect(materialOf(await readBook(c.owner), "SLEEVE-44")).toEqual(first.body);
    const clash = await c.owner.post(at("/materials"), POST_SLEEVE);
    expect([clash.status, clash.body.detail]).toEqual([409, "A material with this code exists."]);
    expect(await wordsOf(first.body.id)).toEqual(["Price book: material SLEEVE-44 added."]);
  });

  it("change with their version, and every assembly that takes them follows", async () => {
    const before = await readBook(c.owner);
    const board = materialOf(before, "PT-54X6");
    const packs = [{ size: "8.00", price: usd(2000) }];
    const changed = await c.owner.patch(`/materials/${board.id}`, { packs }, board.version);
    expect(changed.body).toMatchObject({
      packs: [{ size: "8", price: usd(2000) }],
      name: board.name,
      version: 2,
    });
    const stale = await c.owner.patch(`/materials/${board.id}`, { name: "Board" }, board.version);
    expect([stale.status, stale.body.current]).toEqual([412, changed.body]);
    const after = await readBook(c.owner);
    const deck = assemblyOf(after, "DECK-REPLACE");
    expect(deck.unitPrice.cents).toBe(unitPriceByHand(after, deck));
    expect(deck.unitPrice.cents).toBeGreaterThan(assemblyOf(before, "DECK-REPLACE").unitPrice.cents);
    expect(assemblyOf(after, "LATTICE-REPLACE").unitPrice).toEqual(
      assemblyOf(before, "LATTICE-REPLACE").unitPrice,
    );
    await c.owner.patch(`/materials/${board.id}`, { packs: board.packs }, 2);
  });

  it("without a pack have no price yet and count nothing", async () => {
    const book = await readBook(c.owner);
    const lattice = materialOf(book, "LATTICE");
    const bare = await c.owner.patch(`/materials/${lattice.id}`, { packs: [] }, lattice.version);
    expect([bare.status, bare.body.packs]).toEqual([200, []]);
    const cheaper = assemblyOf(await readBook(c.owner), "LATTICE-REPLACE").unitPrice.cents;
    expect(cheaper).toBeLessThan(assemblyOf(book, "LATTICE-REPLACE").unitPrice.cents);
    await c.owner.patch(`/materials/${lattice.id}`, { packs: lattice.packs }, bare.body.version);
  });

  it("cannot be retired while an assembly takes them, also near salt only", async () => {
    const book = await readBook(c.owner);
    const retire = async (code: string) => {
      const material = materialOf(await readBook(c.owner), code);
      return c.owner.patch(`/materials/${material.id}`, { retired: true }, material.version);
    };
    const users = book.assemblies.filter((a) => a.recipe.materials.some((m) => m.code === "HANDRAIL"));
    expect(users.map((a) => a.code)).toEqual(["RAIL-HANDRAIL"]);
    const refused = await retire("HANDRAIL");
    expect([refused.status, refused.body.detail]).toEqual([
      409,
      "RAIL-HANDRAIL still takes HANDRAIL; change or retire those first.",
    ]);
    const salted = await retire("HANGER-DOUBLE-SS");
    expect(salted.body.detail).toMatch(/^JOIST-REPAIR still takes HANGER-DOUBLE-SS;/);
    // A long list is cut short.
    expect((await retire("PRESERVATIVE")).body.detail).toMatch(
      /^(\S+, ){9}\S+ and \d+ more still take PRESERVATIVE;/,
    );

    const user = assemblyOf(book, "RAIL-HANDRAIL");
    await c.owner.patch(`/assemblies/${user.id}`, { retired: true }, user.version);
    expect((await retire("HANDRAIL")).body).toMatchObject({ retired: true });
    // And the assembly cannot come back to a material that is gone.
    const back = await c.owner.patch(`/assemblies/${user.id}`, { retired: false }, 2);
    expect(back.body.errors).toEqual([
      {
        path: "body.recipe.materials.0.code",
        message: "HANDRAIL is retired; bring it back or choose another.",
      },
    ]);
    const rail = materialOf(await readBook(c.owner), "HANDRAIL");
    await c.owner.patch(`/materials/${rail.id}`, { retired: false }, rail.version);
    expect((await c.owner.patch(`/assemblies/${user.id}`, { retired: false }, 2)).status).toBe(200);
    expect(await wordsOf(rail.id)).toEqual([
      "Price book: material HANDRAIL retired.",
      "Price book: material HANDRAIL brought back.",
    ]);
  });

  it.each([
    ["a negative price", { packs: [{ size: "1", price: usd(-1) }] }, "body.packs.0.price.cents"],
    ["an empty pack", { packs: [{ size: "0.0000", price: usd(1) }] }, "body.packs.0.size"],
    ["five decimals", { packs: [{ size: "1.00001", price: usd(1) }] }, "body.packs.0.size"],
    [
      "two packs that hold the same",
      {
        packs: [
          { size: "8", price: usd(1) },
          { size: "8.0", price: usd(2) },
        ],
      },
      "body.packs",
    ],
    ["a unit nothing is bought by", { unit: "hour" }, "body.unit"],
    ["a code in small letters", { code: "sleeve" }, "body.code"],
    ["a name that cannot be printed", { name: "Sleeve\u0000" }, "body.name"],
    ["a field nobody knows", { colour: "red" }, "body"],
  ])("are refused with %s", async (_name, change, path) => {
    const before = await readBook(c.owner);
    expect(
      faults(await c.owner.post(at("/materials"), { ...POST_SLEEVE, code: "OTHER", ...change })),
    ).toEqual([422, path]);
    expect(await readBook(c.owner)).toEqual(before);
  });
});

describe("assemblies", () => {
  it("are added once, priced, and found in the book", async () => {
    const key = "add-gate-mend-00001";
    const first = await c.owner.post(at("/assemblies"), GATE_WORK, { key });
    expect(first.status).toBe(201);
    expect(first.body).toMatchObject({ ...GATE_WORK, retired: false, version: 1 });
    expect((await c.owner.post(at("/assemblies"), GATE_WORK, { key })).body).toEqual(first.body);
    const book = await readBook(c.owner);
    expect(assemblyOf(book, "GATE-MEND")).toEqual(first.body);
    expect(first.body.unitPrice.cents).toBe(unitPriceByHand(book, first.body));
    const clash = await c.owner.post(at("/assemblies"), GATE_WORK);
    expect([clash.status, clash.body.detail]).toEqual([409, "An assembly with this code exists."]);
  });

  it("change, retire and come back, each with its words", async () => {
    const { id, version } = assemblyOf(await readBook(c.owner), "TREAD-REPLACE");
    const path = `/assemblies/${id}`;
    const labor = [{ code: "helper", hoursPerUnit: "0.80", setupHours: "0" }];
    const dearer = await c.owner.patch(path, recipe({ labor }), version);
    // A code is no field of a change.
    expect(faults(dearer)).toEqual([422, "body"]);
    const { code: _code, ...change } = recipe({ labor });
    const changed = await c.owner.patch(path, change, version);
    expect(changed.body.recipe.labor).toEqual([{ code: "helper", hoursPerUnit: "0.8", setupHours: "0" }]);
    const stale = await c.owner.patch(path, { retired: true }, version);
    expect([stale.status, stale.body.current]).toEqual([412, changed.body]);
    const retired = await c.owner.patch(path, { retired: true }, changed.body.version);
    expect(retired.body.retired).toBe(true);
    const back = await c.owner.patch(path, { retired: false }, retired.body.version);
    expect(back.body).toMatchObject({ retired: false, recipe: changed.body.recipe });
    expect(await wordsOf(id)).toEqual([
      "Price book: TREAD-REPLACE changed.",
      "Price book: TREAD-REPLACE retired.",
      "Price book: TREAD-REPLACE brought back.",
    ]);
  });

  it("name every code the book does not have, at once", async () => {
    const unknown = recipe({
      materials: [take("PT-2X4"), take("NO-SUCH"), take("SCREW-DECK", "NO-SALT")],
      labor: [{ code: "plumber", hoursPerUnit: "1", setupHours: "0" }],
    });
    const answer = await c.owner.post(at("/assemblies"), { ...unknown, code: "GATE-LOST" });
    expect(answer.status).toBe(422);
    expect(answer.body.errors).toEqual([
      {
        path: "body.recipe.materials.1.code",
        message: "The price book has no material NO-SUCH; choose another or add it first.",
      },
      {
        path: "body.recipe.materials.2.inSalt",
        message: "The price book has no material NO-SALT; choose another or add it first.",
      },
      {
        path: "body.recipe.labor.0.code",
        message:
          "There is no labor rate plumber; choose one of carpenter, finisher, helper and lead-carpenter.",
      },
    ]);
    const gate = assemblyOf(await readBook(c.owner), "GATE-MEND");
    const { code: _code, ...change } = unknown;
    expect(faults(await c.owner.patch(`/assemblies/${gate.id}`, change, gate.version))[0]).toBe(422);
    expect(assemblyOf(await readBook(c.owner), "GATE-MEND")).toEqual(gate);
  });

  it("know only the materials of their own book", async () => {
    const { body } = await c.owner.post("/price-books", { name: "Next", effectiveFrom: "2027-01-04" });
    await c.owner.post(`/price-books/${body.id}/materials`, { ...POST_SLEEVE, code: "ONLY-NEXT" });
    const work = recipe({ materials: [take("ONLY-NEXT")] });
    expect(faults(await c.owner.post(at("/assemblies"), { ...work, code: "GATE-NEXT" }))).toEqual([
      422,
      "body.recipe.materials.0.code",
    ]);
    expect(
      (await c.owner.post(`/price-books/${body.id}/assemblies`, { ...work, code: "GATE-NEXT" })).status,
    ).toBe(201);
  });

  it.each([
    [
      "a material twice",
      { recipe: { materials: [take("PT-2X4"), take("PT-2X4")] } },
      "body.recipe.materials.1.code",
    ],
    [
      "none of a material",
      { recipe: { materials: [{ ...take("PT-2X4"), perUnit: "0" }] } },
      "body.recipe.materials.0.perUnit",
    ],
    ["a negative cost", { recipe: { disposalUnitCents: "-1" } }, "body.recipe.disposalUnitCents"],
    ["a cost beyond reason", { recipe: { equipmentUnitCents: "5000001" } }, "body.recipe.equipmentUnitCents"],
    ["an unknown component", { component: "roof" }, "body.component"],
    ["a unit that is only bought by", { unit: "gal" }, "body.unit"],
    ["a description that cannot be printed", { description: "Rehang\u0000 a gate" }, "body.description"],
  ])("are refused with %s", async (_name, change, path) => {
    const { recipe: parts, ...rest } = change as { recipe?: object };
    const body = { ...recipe(parts ?? {}), ...rest, code: "GATE-OTHER" };
    expect(faults(await c.owner.post(at("/assemblies"), body))).toEqual([422, path]);
    expect((await readBook(c.owner)).assemblies.some((a) => a.code === "GATE-OTHER")).toBe(false);
  });
});

describe("labor rates", () => {
  it("are added and changed; the assemblies that use one follow", async () => {
    const added = await c.owner.post(at("/labor-rates"), {
      code: "mason",
      name: "Mason",
      hourly: usd(3900),
      burdenBp: 3100,
    });
    expect(added.body).toMatchObject({ code: "mason", hourly: usd(3900), burdenBp: 3100, version: 1 });
    const clash = await c.owner.post(at("/labor-rates"), {
      code: "mason",
      name: "M",
      hourly: usd(1),
      burdenBp: 0,
    });
    expect([clash.status, clash.body.detail]).toEqual([409, "A labor rate with this code exists."]);
    const book = await readBook(c.owner);
    const path = `/labor-rates/${rateOf(book, "helper").id}`;
    expect((await c.owner.patch(path, { hourly: usd(4400) }, 1)).body).toMatchObject({
      hourly: usd(4400),
      version: 2,
    });
    expect((await c.owner.patch(path, { hourly: usd(4400) }, 1)).status).toBe(412);
    expect((await c.owner.patch(path, { hourly: usd(0) }, 2)).status).toBe(422);
    const after = await readBook(c.owner);
    const price = (of: typeof after, code: string) => assemblyOf(of, code).unitPrice.cents;
    expect(price(after, "LATTICE-REPLACE")).toBeGreaterThan(price(book, "LATTICE-REPLACE"));
    expect(price(after, "JOIST-SISTER")).toBe(price(book, "JOIST-SISTER"));
  });
});

describe("figures, each fair alone, that together price a unit beyond all reason", () => {
  const terms = { marginBp: 9000, overheadBp: 20_000 };
  const dear = {
    ...GATE_WORK,
    code: "GATE-DEAR",
    recipe: {
      ...GATE_WORK.recipe,
      materials: [{ code: "SLEEVE-44", inSalt: null, perUnit: "9999999", wasteBp: 0 }],
      labor: [{ code: "specialist", hoursPerUnit: "1000", setupHours: "0" }],
    },
  };
  const cheap = { packs: [{ size: "9999999", price: usd(1) }] };
  /** A company with a cheap specialist and a sleeve that costs nearly nothing. */
  const arrange = async () => {
    const who = (await companyWithStarter(h)).owner;
    const { id } = await readBook(who);
    const rate = { code: "specialist", name: "Specialist", hourly: usd(1), burdenBp: 20_000 };
    const specialist = (await who.post(`/price-books/${id}/labor-rates`, rate)).body;
    const sleeve = (await who.post(`/price-books/${id}/materials`, { ...POST_SLEEVE, ...cheap })).body;
    return {
      who,
      terms: () => who.patch(`/price-books/${id}`, terms, 1),
      work: () => who.post(`/price-books/${id}/assemblies`, dear),
      thousand: () => who.patch(`/labor-rates/${specialist.id}`, { hourly: usd(100_000) }, 1),
      dearSleeve: () => who.patch(`/materials/${sleeve.id}`, { packs: POST_SLEEVE.packs }, 1),
    };
  };
  type Act = "terms" | "work" | "thousand" | "dearSleeve";

  it.each<[string, Act[], Act, string]>([
    ["the terms", ["thousand", "work"], "terms", "body.marginBp"],
    ["the assembly", ["terms", "thousand"], "work", "body.recipe"],
    ["the labor rate", ["terms", "work"], "thousand", "body.hourly"],
    ["the material", ["terms", "work"], "dearSleeve", "body.packs"],
  ])("are refused at %s when it comes last", async (_what, first, last, path) => {
    const company = await arrange();
    for (const act of first)
      expect([act, (await company[act]()).status]).toEqual([act, act === "work" ? 201 : 200]);
    const book = await readBook(company.who);
    const refused = await company[last]();
    expect(faults(refused)).toEqual([422, path]);
    expect(refused.body.errors[0].message).toMatch(
      /^GATE-DEAR: One unit would come to more than \$10,000,000/,
    );
    expect(await readBook(company.who)).toEqual(book);
  });

  it("are refused where only the material near salt is beyond reason", async () => {
    const { who, terms: raise } = await arrange();
    await raise();
    const { id } = await readBook(who);
    await who.post(`/price-books/${id}/materials`, { ...POST_SLEEVE, code: "SLEEVE-GOLD" });
    const materials = [{ code: "SLEEVE-44", inSalt: "SLEEVE-GOLD", perUnit: "9999999", wasteBp: 0 }];
    const salted = { ...dear, recipe: { ...GATE_WORK.recipe, materials } };
    expect(faults(await who.post(`/price-books/${id}/assemblies`, salted))).toEqual([422, "body.recipe"]);
  });
});

describe("who may", () => {
  it("refuses changes that change nothing", async () => {
    const book = await readBook(c.owner);
    for (const [path, row] of [
      [`/materials/${book.materials[0]?.id}`, book.materials[0]],
      [`/assemblies/${book.assemblies[0]?.id}`, book.assemblies[0]],
      [`/labor-rates/${book.laborRates[0]?.id}`, book.laborRates[0]],
    ] as const) {
      expect([path, (await c.owner.patch(path, {}, row?.version ?? 1)).status]).toEqual([path, 422]);
    }
  });

  it("keeps what is in a book from other companies and from those who may not change it", async () => {
    const other = await companyWithStarter(h);
    const book = await readBook(c.owner);
    const [material, assembly, rate] = [book.materials[0], book.assemblies[0], book.laborRates[0]];
    for (const who of [other.owner, c.sales]) {
      const status = who === c.sales ? 403 : 404;
      const answers = [
        await who.post(at("/materials"), { ...POST_SLEEVE, code: "FOREIGN" }),
        await who.post(at("/assemblies"), { ...GATE_WORK, code: "FOREIGN" }),
        await who.post(at("/labor-rates"), { code: "foreign", name: "F", hourly: usd(1), burdenBp: 0 }),
        await who.patch(`/materials/${material?.id}`, { name: "Mine" }, material?.version ?? 1),
        await who.patch(`/assemblies/${assembly?.id}`, { note: "Mine" }, assembly?.version ?? 1),
        await who.patch(`/labor-rates/${rate?.id}`, { burdenBp: 0 }, rate?.version ?? 1),
        await who.post(at("/import"), { list: "materials", csv: "code", dryRun: false }),
      ];
      expect(answers.map((a) => a.status)).toEqual(answers.map(() => status));
    }
    expect((await other.owner.get(at("/export"), { list: "materials" })).status).toBe(404);
    expect(await readBook(c.owner)).toEqual(book);
  });
});
