import { ENDPOINTS, type Endpoint } from "@ledgerboard/contracts";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { z } from "zod";
import { checksums, idsOf, taken, type World, world } from "../support/fixtures.ts";
import { type Harness, startHarness } from "../support/harness.ts";
import { type Body, bodies, gentleFirst, namesIn, pathOf, send } from "./recipes.ts";

/**
 * Two companies in which everything exists once. Whatever one of them asks with ids of the other is answered as if
 * they did not exist, and leaves no trace. Made from the declared endpoints, so that a new one is tried too.
 */
let h: Harness;
let a: World;
let b: World;
beforeAll(async () => {
  h = await startHarness();
  a = await world(h, "Alder Carpentry");
  b = await world(h, "Birch Porchworks");
});
afterAll(() => h.close());

const sumsOf = async () => [await checksums(h, a.company.companyId), await checksums(h, b.company.companyId)];
const byId = (id: string): Endpoint => {
  const found = ENDPOINTS.find((e) => e.id === id);
  if (!found) throw new Error(`There is no endpoint ${id}.`);
  return found;
};
const WITH_IDS = ENDPOINTS.filter((e) => e.access !== "public" && namesIn(e).length > 0);

/** Places of ids in what an endpoint takes: "body.customerId", "query.from". */
function idPlaces(endpoint: Endpoint): string[] {
  const found: string[] = [];
  const look = (node: unknown, path: string): void => {
    if (typeof node !== "object" || node === null) return;
    const { format, properties, items, anyOf } = node as Record<string, unknown>;
    if (format === "uuid") found.push(path);
    for (const option of (anyOf as unknown[]) ?? []) look(option, path);
    for (const [key, value] of Object.entries((properties as object) ?? {})) look(value, `${path}.${key}`);
    if (items) look(items, `${path}.*`);
  };
  for (const part of ["body", "query"] as const) {
    const schema = endpoint[part];
    if (schema) look(z.toJSONSchema(schema, { io: "input", unrepresentable: "any" }), part);
  }
  return found;
}

describe("nothing is left out", () => {
  test("every endpoint has a value for each id in its address", () => {
    for (const e of ENDPOINTS) expect(() => pathOf(e, a.params)).not.toThrow();
    expect(WITH_IDS.length).toBeGreaterThanOrEqual(35);
  });

  test("every endpoint with a body has one it takes", () => {
    for (const e of ENDPOINTS) {
      const body = e.body && bodies(a)[e.id];
      if (e.body) expect([e.id, e.body.safeParse(body).error?.issues ?? []]).toEqual([e.id, []]);
    }
  });

  test("every id of the one company is another in the other", () => {
    for (const [name, id] of Object.entries(a.params)) expect(b.params[name], name).not.toBe(id);
  });
});

describe("ids in addresses", () => {
  test("of another company are answered like ids of nobody, and nothing changes on either side", async () => {
    for (const e of WITH_IDS) {
      const before = await sumsOf();
      const body = bodies(b)[e.id];
      const answer = await send(b.company.owner, e, pathOf(e, a.params), { body });
      expect([e.id, answer.status, answer.body.type]).toEqual([e.id, 404, "/problems/not-found"]);
      expect(await sumsOf(), e.id).toEqual(before);
      const nobody = Object.fromEntries(namesIn(e).map((name) => [name, crypto.randomUUID()]));
      const none = await send(b.company.owner, e, pathOf(e, nobody), { body });
      expect([none.status, none.body.detail], e.id).toEqual([404, answer.body.detail]);
    }
  });
});

describe("what is read", () => {
  test("carries no id and no word of the other company", async () => {
    const foreign = [...(await idsOf(h, a.company.companyId))];
    expect(foreign.length).toBeGreaterThan(100);
    let read = 0;
    for (const e of ENDPOINTS.filter((x) => x.method === "GET")) {
      const answer = await send(b.company.owner, e, pathOf(e, b.params));
      expect([e.id, answer.status]).toEqual([e.id, 200]);
      const leaked = foreign.filter((id) => answer.text.includes(id));
      expect([e.id, leaked, answer.text.includes("Alder Carpentry")]).toEqual([e.id, [], false]);
      read += 1;
    }
    expect(read).toBeGreaterThanOrEqual(18);
  });

  test("is found by no search of the other", async () => {
    for (const path of ["/jobs", "/customers"]) {
      for (const search of ["Alder", "TC-26", "410-555-0110"]) {
        const own = await a.company.owner.get(path, { search, limit: 100 });
        const others = await b.company.owner.get(path, { search, limit: 100 });
        const ids = new Set(own.body.items.map((i: { id: string }) => i.id));
        expect(others.body.items.filter((i: { id: string }) => ids.has(i.id))).toEqual([]);
      }
    }
  });
});

describe("ids in bodies and queries", () => {
  interface Try {
    /** Of the caller's own company. */
    params?: Record<string, string>;
    body?: Body;
    /** The same with an id of the given company in the place in question. */
    with: (of: World) => Body;
    /** Brings the caller's own company to where the act is allowed, so that only the id can be at fault. */
    first?: () => Promise<unknown>;
    /** Where even the own id is refused, by what. */
    ownAnswer?: number;
  }
  const second = () => ({ ...b.params, jobId: b.spare.jobId });
  const own = (id: string) => bodies(b)[id] ?? {};
  const tries: Record<string, () => Try> = {
    "mergeCustomers body.otherId": () => ({ with: (of) => ({ otherId: of.spare.customerId }) }),
    // Own: merged by the line above.
    "unmergeCustomer body.otherId": () => ({ with: (of) => ({ otherId: of.spare.customerId }) }),
    "createLead body.customerId": () => ({
      with: (of) => ({ ...own("createLead"), customer: undefined, customerId: of.params.customerId }),
    }),
    "createLead body.propertyId": () => ({
      with: (of) => ({
        ...own("createLead"),
        customer: undefined,
        customerId: b.params.customerId,
        property: undefined,
        propertyId: of.params.propertyId,
      }),
    }),
    "updateJob body.salespersonId": () => ({ with: (of) => ({ salespersonId: of.company.sales.memberId }) }),
    "updateJob body.estimatorId": () => ({ with: (of) => ({ estimatorId: of.company.estimator.memberId }) }),
    "addVisit body.memberId": () => ({
      params: second(),
      with: (of) => ({ ...own("addVisit"), memberId: of.company.sales.memberId }),
    }),
    "updateVisit body.memberId": () => ({ with: (of) => ({ memberId: of.company.sales.memberId }) }),
    "addObservation body.zoneId": () => ({
      with: (of) => ({ ...own("addObservation"), zoneId: of.params.zoneId }),
    }),
    "addAdvisory body.zoneId": () => ({
      with: (of) => ({ ...own("addAdvisory"), zoneId: of.params.zoneId }),
    }),
    "compareRevisions query.from": () => ({ with: (of) => ({ from: of.spare.issuedRevisionId }) }),
    "compareRevisions query.to": () => ({ with: (of) => ({ to: of.spare.issuedRevisionId }) }),
    "getPriceBook query.bookId": () => ({ with: (of) => ({ bookId: of.params.bookId }) }),
    "addLine body.zoneId": () => ({ with: (of) => ({ ...own("addLine"), zoneId: of.spare.zoneId }) }),
    "updateLine body.zoneId": () => ({ with: (of) => ({ zoneId: of.spare.zoneId }) }),
    "addClosure body.crewId": () => ({ with: (of) => ({ ...own("addClosure"), crewId: of.params.crewId }) }),
    "moveBooking body.crewId": () => ({
      with: (of) => ({ crewId: of.params.crewId, startOn: "2026-03-30" }),
    }),
    "bookCrew body.crewId": () => ({
      first: async () =>
        taken(await b.company.owner.post(`/bookings/${b.params.bookingId}/cancel`, { why: "To book anew." })),
      with: (of) => ({ ...own("bookCrew"), crewId: of.params.crewId }),
    }),
  };

  test("every place that takes an id is tried", () => {
    const places = ENDPOINTS.flatMap((e) => idPlaces(e).map((place) => `${e.id} ${place}`));
    expect(Object.keys(tries).sort()).toEqual(places.sort());
  });

  test("of another company are refused, naming the place or like nobody's; one's own are taken", async () => {
    for (const [name, make] of Object.entries(tries)) {
      const [id = "", place = ""] = name.split(" ");
      const endpoint = byId(id);
      const { params = b.params, with: withIdOf, first } = make();
      await first?.();
      const path = pathOf(endpoint, params);
      const attempt = async (of: World) => {
        const given = JSON.parse(JSON.stringify(withIdOf(of)));
        if (endpoint.method === "GET") return b.company.owner.get(path, given);
        const version = endpoint.ifMatch ? await versionOf(endpoint, params) : 1;
        return send(b.company.owner, endpoint, path, { body: given, version });
      };
      const before = await sumsOf();
      const refused = await attempt(a);
      const how = refused.status === 404 ? "not-found" : `at ${refused.body.errors?.[0]?.path}`;
      expect([name, refused.status < 500, ["not-found", `at ${place}`].includes(how)], refused.text).toEqual([
        name,
        true,
        true,
      ]);
      expect(await sumsOf(), name).toEqual(before);
      const answer = await attempt(b);
      expect([name, answer.status < 300], answer.text).toEqual([name, true]);
    }
  });

  /** The version of the record an endpoint changes, read past the API. */
  async function versionOf(endpoint: Endpoint, params: Record<string, string>): Promise<number> {
    const table = { jobId: "jobs", visitId: "visits", lineId: "scope_lines", bookingId: "bookings" }[
      namesIn(endpoint)[0] ?? ""
    ];
    const { rows } = await h.admin.query(`SELECT version FROM ${table} WHERE id = $1`, [
      params[namesIn(endpoint)[0] ?? ""],
    ]);
    return rows[0].version;
  }
});

// Last, since it does what it asks for.
test("the same calls by the company itself find everything: the ids were real", async () => {
  for (const e of [...WITH_IDS].sort(gentleFirst)) {
    const answer = await send(a.company.owner, e, pathOf(e, a.params), { body: bodies(a)[e.id] });
    expect([e.id, answer.status !== 404 && answer.status < 500], answer.text).toEqual([e.id, true]);
  }
});
