import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { DECK_SHAPE } from "../support/fixtures.ts";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";
import { companyWithBook, jobWithZones, start } from "./estimating.fixture.ts";

let h: Harness;
let c: TestCompany;
let job: Awaited<ReturnType<typeof jobWithZones>>;
beforeAll(async () => {
  h = await startHarness();
  h.setNow("2026-11-25T15:00:00Z");
  c = await companyWithBook(h);
});
afterAll(() => h.close());
beforeEach(async () => {
  job = await jobWithZones(h, c);
});

const shape = (change: object = {}) => ({ ...DECK_SHAPE, ...change });
const L = { shape: "l_shape", lengthIn: 192, widthIn: 144, notchLengthIn: 96.5, notchWidthIn: 48.0625 };
const polygon = (...points: [number, number][]) => ({
  shape: "polygon",
  points: points.map(([x, y]) => ({ x, y })),
});
const post = (geometry: unknown, more: object = {}) =>
  c.sales.post(`/jobs/${job.jobId}/zones`, { name: "Porch", kind: "porch", geometry, ...more });
const zones = async () => (await c.owner.get(`/jobs/${job.jobId}`)).body.zones;
const findings = async (revisionId: string, ruleId: string) =>
  (await c.sales.get(`/revisions/${revisionId}/assessment`)).body.findings.filter(
    (f: { ruleId: string }) => f.ruleId === ruleId,
  );

describe("a measured shape", () => {
  it.each<[string, object, (string | null)[]]>([
    ["a rectangle", shape(), ["12", "10", "4"]],
    ["an L", shape({ outline: L }), ["16", "12", "4"]],
    // 8 ft 4 in by 10 ft, from a corner that is not at the wall.
    ["a polygon", shape({ outline: polygon([-12, 0], [88, 0], [88, 120], [0, 120]) }), ["8.3333", "10", "4"]],
    ["a shape of unknown height", shape({ heightIn: null }), ["12", "10", null]],
    ["a stair alone", shape({ outline: null, framing: null, decking: null }), [null, null, "4"]],
    ["nothing but its height", { ...shape(), outline: null, stairs: [], guards: [] }, [null, null, "4"]],
  ])(
    "is stored and read back as sent: %s; length, width and height follow",
    async (_what, geometry, feet) => {
      const added = await post(geometry);
      expect([added.status, added.body.geometry]).toEqual([201, geometry]);
      expect([added.body.lengthFt, added.body.widthFt, added.body.heightFt]).toEqual(feet);
      expect((await zones()).find((z: { id: string }) => z.id === added.body.id)).toEqual(added.body);
    },
  );

  it("wins over length and width typed beside it, and keeps them where it does not tell", async () => {
    const typed = { lengthFt: "3", widthFt: "3", heightFt: "3" };
    expect((await post(shape(), typed)).body).toMatchObject({ lengthFt: "12", widthFt: "10", heightFt: "4" });
    const stair = { ...shape(), outline: null, heightIn: null };
    expect((await post(stair, typed)).body).toMatchObject(typed);
  });

  it("is changed, left alone by other corrections, and cleared with null; what was measured stays", async () => {
    const { body: zone } = await post(shape());
    const at = `/zones/${zone.id}`;
    const named = await c.sales.patch(at, { name: "Back porch" }, zone.version);
    expect(named.body).toMatchObject({ name: "Back porch", geometry: shape() });
    const longer = shape({ outline: { shape: "rectangle", lengthIn: 150.5, widthIn: 120 } });
    const changed = await c.sales.patch(at, { geometry: longer }, named.body.version);
    expect(changed.body).toMatchObject({ geometry: longer, lengthFt: "12.5417" });
    expect((await c.sales.patch(at, { geometry: null }, named.body.version)).status).toBe(412);
    const cleared = await c.sales.patch(at, { geometry: null }, changed.body.version);
    expect(cleared.body).toMatchObject({ geometry: null, lengthFt: "12.5417", widthFt: "10" });
    const { rows } = await h.admin.query("SELECT geometry FROM zones WHERE id = $1", [zone.id]);
    expect(rows).toEqual([{ geometry: null }]);
  });

  it.each<[string, unknown, string]>([
    ["text", "a deck", "body.geometry"],
    [
      "an unknown shape",
      shape({ outline: { shape: "circle", radiusIn: 60 } }),
      "body.geometry.outline.shape",
    ],
    [
      "a length off the tape",
      shape({ outline: { shape: "rectangle", lengthIn: 144.03, widthIn: 120 } }),
      "body.geometry.outline.lengthIn",
    ],
    [
      "a length below zero",
      shape({ outline: { shape: "rectangle", lengthIn: -12, widthIn: 120 } }),
      "body.geometry.outline.lengthIn",
    ],
    ["two corners", shape({ outline: polygon([0, 0], [12, 0]) }), "body.geometry.outline.points"],
    [
      "sixty-one corners",
      shape({ outline: polygon(...Array.from({ length: 61 }, (_, i): [number, number] => [i, i * i])) }),
      "body.geometry.outline.points",
    ],
    [
      "a hole of two corners",
      shape({ cutouts: [{ points: [{ x: 1, y: 1 }] }] }),
      "body.geometry.cutouts.0.points",
    ],
    [
      "joists of no known size",
      shape({ framing: { ...DECK_SHAPE.framing, joistSize: "2x7" } }),
      "body.geometry.framing.joistSize",
    ],
    [
      "a stair of 61 rises",
      shape({ stairs: [{ ...DECK_SHAPE.stairs[0], risers: 61 }] }),
      "body.geometry.stairs.0.risers",
    ],
    ["a missing part", (({ guards: _, ...rest }) => rest)(shape()), "body.geometry.guards"],
    ["a field of ours", shape({ areaSqft: "120" }), "body.geometry"],
  ])("is refused with %s, naming the place", async (_what, geometry, path) => {
    const before = await zones();
    const answer = await post(geometry);
    expect([answer.status, [...new Set(answer.body.errors.map((e: { path: string }) => e.path))]]).toEqual([
      422,
      [path],
    ]);
    expect(await zones()).toEqual(before);
  });
});

describe("a drawing that cannot be", () => {
  // A bow tie: the second and the fourth side cross.
  const crossing = shape({ outline: polygon([0, 0], [120, 0], [0, 96], [120, 96]) });
  const noSpacing = shape({ framing: { ...DECK_SHAPE.framing, joistSpacingIn: 0 } });

  // Without its edge a surface bounds nothing that is priced on it; without the rest it still does.
  it.each<[string, object, RegExp, "blocking" | "warning"]>([
    ["an outline that crosses itself", crossing, /^geometry\.outline/, "blocking"],
    ["joists 0 inches apart", noSpacing, /^geometry\.framing\.joistSpacingIn$/, "warning"],
    [
      "boards of no width",
      shape({ decking: { ...DECK_SHAPE.decking, boardWidthIn: 0 } }),
      /^geometry\.decking\.boardWidthIn$/,
      "warning",
    ],
    [
      "a notch larger than the deck",
      shape({ outline: { ...L, notchLengthIn: 300 } }),
      /^geometry\.outline\.notchLengthIn$/,
      "blocking",
    ],
  ])("is kept and reported with its field: %s", async (_what, geometry, field, severity) => {
    const added = await post(geometry);
    expect([added.status, added.body.geometry]).toEqual([201, geometry]);
    const id = await start(c.sales, job.jobId, "first_pass");
    const [fault] = await findings(id, "geometry_fault");
    // Nothing is priced from it yet, so it stands in nobody's way.
    expect(fault).toMatchObject({
      severity: "note",
      zoneId: added.body.id,
      field: expect.stringMatching(field),
    });
    const line = { zoneId: added.body.id, component: "decking", action: "replace", unit: "sqft" };
    const priced = { ...line, assemblyCode: "DECK-REPLACE", quantity: "40" };
    expect((await c.sales.post(`/revisions/${id}/lines`, priced)).status).toBe(201);
    expect((await findings(id, "geometry_fault"))[0]).toMatchObject({ severity });
    for (const read of ["choices", "cut-plan"]) {
      expect([read, (await c.sales.get(`/revisions/${id}/${read}`, {})).status]).toEqual([read, 200]);
    }
    const issued = await c.sales.post(`/revisions/${id}/issue`);
    if (severity === "blocking")
      expect([issued.status, issued.body.detail]).toEqual([409, expect.stringMatching(/^Porch: /)]);
    else expect([issued.status, issued.text]).toEqual([200, issued.text]);
    expect((await c.sales.get(`/revisions/${id}`)).body.lines).toHaveLength(1);
  });
});
