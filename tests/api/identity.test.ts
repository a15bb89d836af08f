import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Harness, startHarness } from "../support/harness.ts";
import { mailedKey, newOwner, PASSWORD, VISITOR_SETTINGS, visitor } from "../support/visitor.ts";

let h: Harness;
beforeAll(async () => {
  h = await startHarness(VISITOR_SETTINGS);
});
afterAll(() => h.close());
beforeEach(() => h.setNow(new Date().toISOString()));

const minutesFromNow = (minutes: number): string => new Date(Date.now() + minutes * 60_000).toISOString();
const signIn = (email: string, password: string, more: object = {}) =>
  visitor(h).post("/session", { email, password, ...more });

/** A problem document without what differs from request to request. */
function bare(body: Record<string, unknown>): Record<string, unknown> {
  const { requestId, ...rest } = body;
  expect(requestId).toBeTypeOf("string");
  return rest;
}

describe("opening a company", () => {
  test("makes an owner who is signed in, and what a company works with", async () => {
    const owner = await newOwner(h, { companyName: "Héron Point Carpentry", email: "Ann@Heron.Example" });
    const session = await owner.get("/session");
    expect(session.status).toBe(200);
    expect(session.body).toEqual(owner.session);
    expect(session.body).toMatchObject({
      member: { name: "Olive Owner", email: "ann@heron.example", roles: ["owner"] },
      company: { name: "Héron Point Carpentry", slug: "heron-point-carpentry", state: "MD", currency: "USD" },
    });
    expect(session.body.permissions).toContain("members.edit");

    const { rows } = await h.admin.query(
      `SELECT c.job_prefix, k.weekdays, k.crew_id, p.amount_cents, p.percent_bp, p.hours, p.structural_action,
              (p.effective_from = (now() AT TIME ZONE c.timezone)::date) AS from_today,
              (SELECT count(*)::int FROM assemblies i WHERE i.company_id = c.company_id) AS assemblies,
              (SELECT array_agg(action ORDER BY id) FROM audit_entries a WHERE a.company_id = c.company_id) AS acts,
              m.password_hash
       FROM companies c JOIN calendars k USING (company_id) JOIN materiality_policies p USING (company_id)
       JOIN members m USING (company_id) WHERE c.company_id = $1`,
      [owner.companyId],
    );
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      job_prefix: "HP",
      weekdays: [1, 2, 3, 4, 5],
      crew_id: null,
      amount_cents: 50_000,
      percent_bp: 1_000,
      hours: null,
      structural_action: true,
      from_today: true,
    });
    expect(rows[0].assemblies).toBeGreaterThan(0);
    expect(rows[0].acts).toContain("company.opened");
    // The settings of the OWASP Password Storage Cheat Sheet, as the encoded hash states them.
    expect(rows[0].password_hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  });

  test("gives two companies of one name different addresses", async () => {
    const first = await newOwner(h, { companyName: "Two Ridge" });
    const second = await newOwner(h, { companyName: "Two Ridge" });
    expect(first.session?.company.slug).toBe("two-ridge");
    expect(second.session?.company.slug).toMatch(/^two-ridge-[a-z0-9]{4}$/);
  });

  test("refuses a time zone nobody knows and a short password, and leaves nothing behind", async () => {
    const form = {
      companyName: "Nowhere",
      state: "MD",
      name: "N",
      email: "n@nowhere.example",
      password: PASSWORD,
    };
    for (const timezone of ["Mars/Olympus", "+05:00"]) {
      const refused = await visitor(h).post("/sign-up", { ...form, timezone });
      expect(refused.status).toBe(422);
      expect(refused.body.errors[0].path).toBe("body.timezone");
    }
    const short = await visitor(h).post("/sign-up", { ...form, password: "short" });
    expect(short.body.errors[0].path).toBe("body.password");
    const { rows } = await h.admin.query("SELECT FROM companies WHERE name = 'Nowhere'");
    expect(rows).toHaveLength(0);
  });

  test("is limited per address", async () => {
    const one = visitor(h);
    const statuses: number[] = [];
    for (let i = 0; i < 6; i++) statuses.push((await one.post("/sign-up", {})).status);
    expect(statuses).toEqual([422, 422, 422, 422, 422, 429]);
  });
});

describe("signing in", () => {
  test("takes the address in any case and sets a cookie scripts cannot read", async () => {
    const owner = await newOwner(h);
    const person = visitor(h);
    const answer = await person.post("/session", { email: owner.email.toUpperCase(), password: PASSWORD });
    expect(answer.status).toBe(201);
    expect(answer.body.member.id).toBe(owner.memberId);
    expect(person.setCookie).toMatch(/^ledgerboard_session=[A-Za-z0-9_-]{43};/);
    expect(person.setCookie).toContain("HttpOnly");
    expect(person.setCookie).toContain("SameSite=Lax");
    expect(person.setCookie).toContain("Path=/");
    expect(person.setCookie).toContain(`Max-Age=${14 * 86_400}`);
    const { rows } = await h.admin.query(
      `SELECT s.token_hash, s.address, s.user_agent, m.last_seen_at FROM sessions s JOIN members m
         ON m.company_id = s.company_id AND m.id = s.member_id WHERE m.id = $1 ORDER BY s.id DESC`,
      [owner.memberId],
    );
    expect(rows).toHaveLength(2);
    expect(rows[0].token_hash).toMatch(/^[0-9a-f]{64}$/);
    expect(person.setCookie).not.toContain(rows[0].token_hash);
    expect(rows[0].address).toMatch(/^10\./);
    expect(Date.now() - rows[0].last_seen_at.getTime()).toBeLessThan(60_000);
  });

  test("marks the cookie Secure and binds it to the host behind https", async () => {
    const https = await startHarness({ ...VISITOR_SETTINGS, PUBLIC_URL: "https://ledger.example" });
    try {
      const owner = await newOwner(https);
      expect(owner.setCookie).toMatch(/^__Host-ledgerboard_session=/);
      expect(owner.setCookie).toContain("Secure");
      expect((await owner.get("/session")).status).toBe(200);
    } finally {
      await https.close();
    }
  });

  test("answers a wrong password and an unknown address alike, and as slowly", async () => {
    const owner = await newOwner(h);
    const timed = async (email: string) => {
      const start = performance.now();
      const answer = await signIn(email, "not the password");
      return { answer, ms: performance.now() - start };
    };
    const wrong = await timed(owner.email);
    const unknown = await timed("nobody@heron.example");
    expect(wrong.answer.status).toBe(401);
    expect(wrong.answer.body.type).toBe("/problems/wrong-sign-in");
    expect(bare(unknown.answer.body)).toEqual(bare(wrong.answer.body));
    expect(wrong.answer.headers["set-cookie"]).toBeUndefined();
    for (const { ms } of [wrong, unknown]) expect(ms).toBeGreaterThan(245);
  });

  test("locks after ten wrong passwords in a row for 15 minutes and says nothing else", async () => {
    const owner = await newOwner(h);
    // Nine, then a right one: the count begins anew.
    for (let i = 0; i < 9; i++) await signIn(owner.email, `wrong ${i}`);
    expect((await signIn(owner.email, PASSWORD)).status).toBe(201);

    // Many at once, each from another address: not one more than ten is tried.
    const guesses = await Promise.all(
      Array.from({ length: 14 }, (_, i) => signIn(owner.email, `guess ${i}`)),
    );
    expect(guesses.map((g) => g.status)).toEqual(Array(14).fill(401));
    const { rows } = await h.admin.query(
      "SELECT action, count(*)::int FROM audit_entries WHERE company_id = $1 AND action LIKE 'member.%' GROUP BY 1 ORDER BY 1",
      [owner.companyId],
    );
    expect(rows).toEqual([
      { action: "member.locked", count: 1 },
      { action: "member.sign_in_refused", count: 18 },
      { action: "member.signed_in", count: 1 },
    ]);

    const locked = await signIn(owner.email, PASSWORD);
    expect(locked.status).toBe(401);
    expect(bare(locked.body)).toEqual(bare(guesses[0]?.body));
    // Whoever is signed in stays so: a stranger's guesses do not throw anybody out.
    expect((await owner.get("/session")).status).toBe(200);

    h.setNow(minutesFromNow(14));
    expect((await signIn(owner.email, PASSWORD)).status).toBe(401);
    h.setNow(minutesFromNow(16));
    expect((await signIn(owner.email, PASSWORD)).status).toBe(201);
  });

  test("asks which company when the address has several, but only who knows the password", async () => {
    const email = "both@heron.example";
    const first = await newOwner(h, { email, companyName: "First Porch" });
    const second = await newOwner(h, { email, companyName: "Second Porch" });
    const asked = await signIn(email, PASSWORD);
    expect(asked.status).toBe(409);
    expect(asked.body.type).toBe("/problems/choose-company");
    expect(asked.body.companies).toEqual([
      { slug: "first-porch", name: "First Porch" },
      { slug: "second-porch", name: "Second Porch" },
    ]);
    const chosen = await signIn(email, PASSWORD, { company: "second-porch" });
    expect(chosen.status).toBe(201);
    expect(chosen.body.company.id).toBe(second.companyId);
    expect(chosen.body.company.id).not.toBe(first.companyId);
    expect((await signIn(email, "wrong")).body.companies).toBeUndefined();
    const other = await newOwner(h);
    expect((await signIn(other.email, PASSWORD, { company: "second-porch" })).status).toBe(401);
  });

  test("opens the one company whose password fits", async () => {
    const email = "differs@heron.example";
    const first = await newOwner(h, { email, password: "the first password" });
    await newOwner(h, { email, password: "the second password" });
    const answer = await signIn(email, "the first password");
    expect(answer.status).toBe(201);
    expect(answer.body.company.id).toBe(first.companyId);
  });
});

describe("a session", () => {
  test("ends with its browser's sign-out and no other", async () => {
    const owner = await newOwner(h);
    const second = visitor(h);
    await second.post("/session", { email: owner.email, password: PASSWORD });
    const out = await second.send("delete", "/session");
    expect(out.status).toBe(200);
    expect(second.setCookie).toMatch(/^ledgerboard_session=;.*(Expires=Thu, 01 Jan 1970|Max-Age=0)/);
    expect((await owner.get("/session")).status).toBe(200);
  });

  test("does not come back with the cookie of before the sign-out", async () => {
    const owner = await newOwner(h);
    const cookie = owner.setCookie.split(";")[0] ?? "";
    await owner.send("delete", "/session");
    const replayed = await visitor(h).send("get", "/session", undefined, { Cookie: cookie });
    expect(replayed.status).toBe(401);
    expect(replayed.body.type).toBe("/problems/not-signed-in");
  });

  test("lasts 14 days", async () => {
    const owner = await newOwner(h);
    const days = (n: number): string => minutesFromNow(-n * 24 * 60);
    h.setNow(days(13.9));
    const young = visitor(h);
    await young.post("/session", { email: owner.email, password: PASSWORD });
    h.setNow(days(14.1));
    const old = visitor(h);
    expect((await old.post("/session", { email: owner.email, password: PASSWORD })).status).toBe(201);
    expect((await young.get("/session")).status).toBe(200);
    expect((await old.get("/session")).status).toBe(401);
  });

  test("writes only with its own CSRF token", async () => {
    const owner = await newOwner(h);
    const other = await newOwner(h);
    const rename = (headers: object) => owner.send("patch", "/company", { phone: "410-555-0100" }, headers);
    for (const token of ["", "wrong", other.session?.csrfToken ?? ""]) {
      const refused = await rename({ "X-CSRF-Token": token, "If-Match": '"1"' });
      expect(refused.status).toBe(403);
      expect(refused.body.type).toBe("/problems/bad-csrf");
    }
    expect((await owner.get("/company")).body.phone).toBeNull();
    expect((await rename({ "If-Match": '"1"' })).status).toBe(200);
  });
});

test("no other site's page can sign a browser in or up", async () => {
  const owner = await newOwner(h);
  const from = (headers: object) =>
    visitor(h).post("/session", { email: owner.email, password: PASSWORD }, headers);
  for (const headers of [
    { "Sec-Fetch-Site": "cross-site" },
    { "Sec-Fetch-Site": "same-site", Origin: "http://127.0.0.1:8080" },
    { Origin: "https://evil.example" },
    { Origin: "null" },
  ]) {
    const refused = await from(headers);
    expect(refused.status, JSON.stringify(headers)).toBe(403);
    expect(refused.body.type).toBe("/problems/bad-csrf");
    expect(refused.headers["set-cookie"]).toBeUndefined();
  }
  const { port } = h.app.server.address() as { port: number };
  for (const headers of [
    { "Sec-Fetch-Site": "same-origin", Origin: "http://127.0.0.1:5173" },
    { Origin: "http://127.0.0.1:8080" },
    { Origin: `http://127.0.0.1:${port}` },
    {},
  ]) {
    expect((await from(headers)).status, JSON.stringify(headers)).toBe(201);
  }
});

describe("a password", () => {
  test("is changed by who knows it, and other browsers are signed out", async () => {
    const owner = await newOwner(h);
    const second = visitor(h);
    await second.post("/session", { email: owner.email, password: PASSWORD });
    const change = (current: string, next: string) => owner.post("/session/password", { current, next });

    const wrong = await change("not it", "a new long password");
    expect(wrong.status).toBe(422);
    expect(wrong.body.errors[0].path).toBe("body.current");
    expect((await change(PASSWORD, PASSWORD)).body.errors[0].path).toBe("body.next");
    expect((await second.get("/session")).status).toBe(200);

    expect((await change(PASSWORD, "a new long password")).status).toBe(200);
    expect((await owner.get("/session")).status).toBe(200);
    expect((await second.get("/session")).status).toBe(401);
    expect((await signIn(owner.email, PASSWORD)).status).toBe(401);
    expect((await signIn(owner.email, "a new long password")).status).toBe(201);
  });

  const ask = (email: string) => visitor(h).post("/password-resets", { email });
  const confirm = (token: string, password = "set by mail, long") =>
    visitor(h).post("/password-resets/confirm", { token, password });

  test("is set anew with a mailed link, once, which signs every browser out and lifts a lock", async () => {
    const owner = await newOwner(h);
    await h.admin.query("UPDATE members SET locked_until = now() + interval '10 minutes' WHERE id = $1", [
      owner.memberId,
    ]);
    expect((await ask(owner.email.toUpperCase())).status).toBe(202);
    const key = await mailedKey(h, owner.email, "reset");
    expect((await owner.get("/company/outbox")).body.items[0].kind).toBe("password_reset");

    expect((await confirm(key)).status).toBe(200);
    expect((await owner.get("/session")).status).toBe(401);
    expect((await signIn(owner.email, "set by mail, long")).status).toBe(201);
    expect((await signIn(owner.email, PASSWORD)).status).toBe(401);
    const again = await confirm(key, "and once more, long");
    expect(again.status).toBe(410);
    expect(again.body.type).toBe("/problems/gone");
    const { rows } = await h.admin.query("SELECT token_hash FROM password_resets WHERE member_id = $1", [
      owner.memberId,
    ]);
    expect(rows[0].token_hash).not.toContain(key);
  });

  test("is not set with a link that is older than an hour, replaced, or invented", async () => {
    const owner = await newOwner(h);
    await ask(owner.email);
    const first = await mailedKey(h, owner.email, "reset");
    await ask(owner.email);
    const second = await mailedKey(h, owner.email, "reset");
    expect(second).not.toBe(first);
    const gone = [await confirm(first), await confirm("A".repeat(43))];
    h.setNow(minutesFromNow(61));
    gone.push(await confirm(second));
    for (const answer of gone) expect(answer.status).toBe(410);
    expect(bare(gone[0]?.body)).toEqual(bare(gone[1]?.body));
    h.setNow(minutesFromNow(59));
    expect((await confirm(second)).status).toBe(200);
  });

  test("sends nobody a sixth link within an hour", async () => {
    const owner = await newOwner(h);
    for (let i = 0; i < 6; i++) expect((await ask(owner.email)).status).toBe(202);
    const mails = async () =>
      (await h.admin.query("SELECT FROM outbox_messages WHERE recipient = $1", [owner.email])).rows.length;
    expect(await mails()).toBe(5);
    h.setNow(minutesFromNow(61));
    await ask(owner.email);
    expect(await mails()).toBe(6);
  });

  test("of an unknown address is asked for with the same answer, as slowly, and no mail", async () => {
    const owner = await newOwner(h);
    const start = performance.now();
    const unknown = await ask("stranger@heron.example");
    expect(performance.now() - start).toBeGreaterThan(295);
    const known = await ask(owner.email);
    expect([unknown.status, unknown.body]).toEqual([known.status, known.body]);
    const { rows } = await h.admin.query(
      "SELECT FROM outbox_messages WHERE recipient = 'stranger@heron.example'",
    );
    expect(rows).toHaveLength(0);
  });

  test("of a member without access is neither mailed a link nor set", async () => {
    const owner = await newOwner(h);
    await ask(owner.email);
    const key = await mailedKey(h, owner.email, "reset");
    await h.admin.query("UPDATE members SET active = false WHERE id = $1", [owner.memberId]);
    expect((await confirm(key)).status).toBe(410);
    expect((await signIn(owner.email, PASSWORD)).status).toBe(401);
    await ask(owner.email);
    expect(await mailedKey(h, owner.email, "reset")).toBe(key);
  });
});
