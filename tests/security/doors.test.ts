import { ENDPOINTS, PERMISSIONS, type Permission, ROLES, type Role } from "@ledgerboard/contracts";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checksums, type World, world } from "../support/fixtures.ts";
import { type Client, type Harness, startHarness } from "../support/harness.ts";
import { bodies, gentleFirst, pathOf, send } from "./recipes.ts";

/** Who gets through which door: session, form token, role. Made from the declared endpoints. */
let h: Harness;
let w: World;
beforeAll(async () => {
  h = await startHarness();
  w = await world(h, "Doors");
});
afterAll(() => h.close());

const CLOSED = ENDPOINTS.filter((e) => e.access !== "public");
const WRITES = CLOSED.filter((e) => e.method !== "GET");

const call = (
  client: Pick<Client, "get" | "post" | "put" | "patch" | "delete">,
  e: (typeof ENDPOINTS)[number],
  more = {},
) => send(client, e, pathOf(e, w.params), { body: bodies(w)[e.id], ...more });

test("there are doors to try", () => {
  expect(CLOSED.length).toBeGreaterThanOrEqual(50);
  expect(WRITES.length).toBeGreaterThanOrEqual(35);
});

test("without a session every endpoint that is not public asks to sign in, and does nothing", async () => {
  const before = await checksums(h, w.company.companyId);
  for (const e of CLOSED) {
    const answer = await call(h.anonymous, e);
    expect([e.id, answer.status, answer.body.type]).toEqual([e.id, 401, "/problems/not-signed-in"]);
  }
  expect(await checksums(h, w.company.companyId)).toEqual(before);
});

test.each([
  ["none", null],
  ["a made-up one", "0123456789abcdef0123456789abcdef"],
  ["another member's", "other"],
])("with the session but %s as form token no write is done", async (_what, csrf) => {
  const other = (await w.company.sales.get("/session")).body.csrfToken;
  const before = await checksums(h, w.company.companyId);
  for (const e of WRITES) {
    const answer = await call(w.company.owner, e, { csrf: csrf === "other" ? other : csrf });
    expect([e.id, answer.status, answer.body.type]).toEqual([e.id, 403, "/problems/bad-csrf"]);
  }
  expect(await checksums(h, w.company.companyId)).toEqual(before);
});

test("reading needs no form token", async () => {
  for (const e of CLOSED.filter((x) => x.method === "GET")) {
    expect([e.id, (await call(w.company.owner, e)).status]).toEqual([e.id, 200]);
  }
});

test("a session that ended, ran out, or whose member lost access opens nothing", async () => {
  const fresh = () => h.signIn(w.company.companyId, w.company.lead_hand.memberId, "lead_hand");
  const [revoked, expired, inactive] = [await fresh(), await fresh(), await fresh()];
  const at = (cookie: string) => cookie.split("=")[1] ?? "";
  const sql = (set: string) =>
    `UPDATE sessions SET ${set} WHERE token_hash = encode(sha256($1::bytea), 'hex')`;
  await h.admin.query(sql("revoked_at = now()"), [at(revoked.cookie)]);
  await h.admin.query(sql("expires_at = now() - interval '1 second'"), [at(expired.cookie)]);
  for (const client of [revoked, expired]) expect((await client.get("/jobs")).status).toBe(401);
  expect((await inactive.get("/jobs")).status).toBe(200);
  await h.admin.query("UPDATE members SET active = false WHERE id = $1", [w.company.lead_hand.memberId]);
  expect((await inactive.get("/jobs")).status).toBe(401);
  await h.admin.query("UPDATE members SET active = true WHERE id = $1", [w.company.lead_hand.memberId]);
});

describe("the role matrix", () => {
  const allowed = (access: string, roles: readonly Role[]): boolean =>
    access === "signed_in" || PERMISSIONS[access as Permission].some((role) => roles.includes(role));

  test("refuses every role every endpoint the matrix does not give it, and nothing is done", async () => {
    const before = await checksums(h, w.company.companyId);
    let refused = 0;
    for (const role of ROLES) {
      for (const e of CLOSED.filter((x) => !allowed(x.access, [role]))) {
        const answer = await call(w.company[role], e);
        expect([role, e.id, answer.status, answer.body.type]).toEqual([
          role,
          e.id,
          403,
          "/problems/not-allowed",
        ]);
        refused += 1;
      }
    }
    expect(await checksums(h, w.company.companyId)).toEqual(before);
    expect(refused).toBeGreaterThanOrEqual(60);
  });

  test("several roles may do what any of them may", async () => {
    const roles: Role[] = ["lead_hand", "scheduler"];
    const { rows } = await h.admin.query(
      "INSERT INTO members (company_id, name, email, password_hash, roles) VALUES ($1, 'Both', 'both@doors.example', 'none', $2) RETURNING id",
      [w.company.companyId, roles],
    );
    const both = await h.signIn(w.company.companyId, rows[0].id, "scheduler");
    for (const e of CLOSED.filter((x) => x.method === "GET")) {
      const { status } = await call(both, e);
      expect([e.id, status]).toEqual([e.id, allowed(e.access, roles) ? 200 : 403]);
    }
    // A role taken away is gone with the next request.
    await h.admin.query("UPDATE members SET roles = '{lead_hand}' WHERE id = $1", [rows[0].id]);
    expect((await both.get("/deposits")).status).toBe(403);
  });

  test("is what a session says one may do", async () => {
    for (const role of ROLES) {
      const { permissions } = (await w.company[role].get("/session")).body;
      const wanted = Object.keys(PERMISSIONS).filter((p) => allowed(p, [role]));
      expect([...permissions].sort()).toEqual(wanted.sort());
    }
  });

  /** Fields for which an endpoint wants more than its permission; who may is tried in tests/api. */
  const WANTS_MORE: Record<string, string[]> = { updateRevision: ["marginBp"] };
  const modest = (id: string) => {
    const body = bodies(w)[id];
    const left = Object.entries(body ?? {}).filter(([field]) => !WANTS_MORE[id]?.includes(field));
    return body && Object.fromEntries(left);
  };

  // Last, since it does what it may.
  test("lets every role through where the matrix gives it the right", async () => {
    for (const e of [...CLOSED].sort(gentleFirst)) {
      for (const role of ROLES.filter((r) => allowed(e.access, [r]))) {
        const answer = await call(w.company[role], e, { body: modest(e.id) });
        const through =
          answer.status < 500 &&
          !["/problems/not-allowed", "/problems/not-signed-in"].includes(answer.body.type);
        expect([role, e.id, through], answer.text.slice(0, 300)).toEqual([role, e.id, true]);
      }
    }
  });
});
