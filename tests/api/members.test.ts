import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Client, type Harness, startHarness } from "../support/harness.ts";
import { mailedKey, PASSWORD, VISITOR_SETTINGS, visitor } from "../support/visitor.ts";

let h: Harness;
beforeAll(async () => {
  h = await startHarness(VISITOR_SETTINGS);
});
afterAll(() => h.close());
beforeEach(() => h.setNow(new Date().toISOString()));

const NADIA = { name: "Nadia New", email: "nadia@heron.example", roles: ["sales", "scheduler"] };
const accept = (token: string, name = "Nadia New") =>
  visitor(h).post("/invitations/accept", { token, name, password: PASSWORD });
const read = (token: string) => visitor(h).post("/invitations/read", { token });
const daysFromNow = (days: number): string => new Date(Date.now() + days * 86_400_000).toISOString();
const memberOf = async (client: Client, id: string) =>
  (await client.get("/members")).body.items.find((m: { id: string }) => m.id === id);

describe("an invitation", () => {
  test("is mailed, read, and accepted once with the roles offered", async () => {
    const { owner, companyId } = await h.company({ name: "Heron Point" });
    const sent = await owner.post("/invitations", { ...NADIA, email: "Nadia@Heron.example" });
    expect(sent.status).toBe(201);
    expect(sent.body).toMatchObject({ ...NADIA, invitedBy: "The owner", state: "open" });
    const token = await mailedKey(h, NADIA.email, "join");

    const offer = await read(token);
    expect(offer.status).toBe(200);
    expect(offer.body).toEqual({ companyName: "Heron Point", ...NADIA });

    const nadia = visitor(h);
    const joined = await nadia.post("/invitations/accept", { token, name: "Nadia N.", password: PASSWORD });
    expect(joined.status).toBe(201);
    expect(joined.body.member).toMatchObject({ name: "Nadia N.", email: NADIA.email, roles: NADIA.roles });
    expect(joined.body.company.id).toBe(companyId);
    expect(nadia.setCookie).toContain("HttpOnly");
    // Sales may read mail addresses of members but not invite; nothing more came with the link than was offered.
    expect((await nadia.get("/members")).status).toBe(200);
    expect((await nadia.post("/invitations", NADIA)).status).toBe(403);
    expect((await visitor(h).post("/session", { email: NADIA.email, password: PASSWORD })).status).toBe(201);

    for (const again of [await accept(token), await read(token)]) {
      expect(again.status).toBe(410);
      expect(again.body.type).toBe("/problems/gone");
    }
    expect((await owner.get("/invitations")).body.items).toMatchObject([
      { id: sent.body.id, state: "accepted" },
    ]);
    const { rows } = await h.admin.query(
      "SELECT member_id FROM audit_entries WHERE action = 'member.joined'",
    );
    expect(rows).toEqual([{ member_id: joined.body.member.id }]);
  });

  test("is accepted by one of two at once", async () => {
    const { owner } = await h.company();
    await owner.post("/invitations", { ...NADIA, email: "twice@heron.example" });
    const token = await mailedKey(h, "twice@heron.example", "join");
    const answers = await Promise.all([accept(token), accept(token), accept(token)]);
    expect(answers.map((a) => a.status).sort()).toEqual([201, 410, 410]);
    const { rows } = await h.admin.query("SELECT FROM members WHERE email = 'twice@heron.example'");
    expect(rows).toHaveLength(1);
  });

  test("sent again replaces the earlier link; a repeat of one request sends nothing", async () => {
    const { owner } = await h.company();
    const email = "again@heron.example";
    const first = await owner.post("/invitations", { ...NADIA, email }, { key: "one-invitation" });
    const repeat = await owner.post("/invitations", { ...NADIA, email }, { key: "one-invitation" });
    expect(repeat.body).toEqual(first.body);
    const firstToken = await mailedKey(h, email, "join");
    const second = await owner.post("/invitations", { ...NADIA, email, roles: ["lead_hand"] });
    const secondToken = await mailedKey(h, email, "join");
    expect(secondToken).not.toBe(firstToken);
    const mails = await h.admin.query("SELECT FROM outbox_messages WHERE recipient = $1", [email]);
    expect(mails.rows).toHaveLength(2);
    expect((await read(firstToken)).status).toBe(410);
    expect((await accept(secondToken)).body.member.roles).toEqual(["lead_hand"]);
    const states = (await owner.get("/invitations")).body.items.map((i: { id: string; state: string }) => [
      i.id,
      i.state,
    ]);
    expect(states).toEqual([
      [second.body.id, "accepted"],
      [first.body.id, "revoked"],
    ]);
  });

  test("ends after seven days or when it is taken back", async () => {
    const { owner } = await h.company();
    const other = await h.company();
    const late = await owner.post("/invitations", { ...NADIA, email: "late@heron.example" });
    const lateToken = await mailedKey(h, "late@heron.example", "join");
    h.setNow(daysFromNow(7.01));
    expect((await accept(lateToken)).status).toBe(410);
    expect((await owner.get("/invitations")).body.items[0]).toMatchObject({
      id: late.body.id,
      state: "expired",
    });
    h.setNow(daysFromNow(6.99));
    expect((await read(lateToken)).status).toBe(200);

    const path = `/invitations/${late.body.id}`;
    expect((await other.owner.delete(path)).status).toBe(404);
    expect((await owner.delete(path)).status).toBe(200);
    expect((await accept(lateToken)).status).toBe(410);
    const again = await owner.delete(path);
    expect(again.status).toBe(409);
    expect(again.body.detail).toContain("taken back");
  });

  test("goes to nobody who is or was a member, and is for owners to send", async () => {
    const { owner, sales, scheduler, estimator, lead_hand, slug } = await h.company();
    const email = `sales@${slug}.example`;
    const refused = await owner.post("/invitations", { ...NADIA, email });
    expect(refused.status).toBe(409);
    expect(refused.body.detail).toContain("The sales is a member");
    await h.admin.query("UPDATE members SET active = false WHERE id = $1", [sales.memberId]);
    expect((await owner.post("/invitations", { ...NADIA, email })).body.detail).toContain("give access back");
    for (const client of [scheduler, estimator, lead_hand]) {
      expect((await client.post("/invitations", NADIA)).status).toBe(403);
      expect((await client.get("/invitations")).status).toBe(403);
      expect((await client.get("/members")).status).toBe(200);
    }
  });
});

describe("a member", () => {
  test("is changed by an owner who saw the newest version, and acts by the new roles at once", async () => {
    const { owner, sales } = await h.company();
    const path = `/members/${sales.memberId}`;
    const { version } = await memberOf(owner, sales.memberId);
    expect((await sales.get("/company/outbox")).status).toBe(403);
    const changed = await owner.patch(path, { name: "Sally", roles: ["owner", "sales"] }, version);
    expect(changed.status).toBe(200);
    expect(changed.body).toMatchObject({ name: "Sally", roles: ["owner", "sales"], active: true });
    expect((await sales.get("/company/outbox")).status).toBe(200);

    const stale = await owner.patch(path, { name: "Old" }, version);
    expect(stale.status).toBe(412);
    expect(stale.body.current).toEqual(changed.body);
    expect((await memberOf(owner, sales.memberId)).name).toBe("Sally");
    const { rows } = await h.admin.query(
      "SELECT words, changes FROM audit_entries WHERE entity_id = $1 AND action = 'member.changed'",
      [sales.memberId],
    );
    expect(rows).toMatchObject([
      { words: "Sally is now owner, sales.", changes: { before: { roles: ["sales"] } } },
    ]);
  });

  test("of another company is not there", async () => {
    const { owner } = await h.company();
    const other = await h.company();
    const refused = await owner.patch(`/members/${other.sales.memberId}`, { name: "Mine" }, 1);
    expect(refused.status).toBe(404);
    expect(await memberOf(owner, other.sales.memberId)).toBeUndefined();
    expect((await memberOf(other.owner, other.sales.memberId)).name).toBe("The sales");
  });

  test("who loses access is signed out everywhere, and gets it back whole", async () => {
    const { owner, sales } = await h.company();
    const { version } = await memberOf(owner, sales.memberId);
    const gone = await owner.patch(`/members/${sales.memberId}`, { active: false }, version);
    expect(gone.body.active).toBe(false);
    expect((await sales.get("/session")).status).toBe(401);
    const back = await owner.patch(`/members/${sales.memberId}`, { active: true }, gone.body.version);
    expect(back.body.active).toBe(true);
    // The old sessions stay ended: access given back does not open forgotten browsers.
    expect((await sales.get("/session")).status).toBe(401);
  });

  test("who is the last owner stays one, whoever asks", async () => {
    const { owner } = await h.company();
    const path = `/members/${owner.memberId}`;
    const { version } = await memberOf(owner, owner.memberId);
    for (const change of [{ active: false }, { roles: ["sales"] }, { active: false, roles: ["owner"] }]) {
      const refused = await owner.patch(path, change, version);
      expect(refused.status).toBe(409);
      expect(refused.body.type).toBe("/problems/illegal-move");
      expect(refused.body.detail).toContain("only owner");
    }
    // What leaves him an owner is his to change.
    expect((await owner.patch(path, { name: "Olive", roles: ["owner", "sales"] }, version)).status).toBe(200);
  });

  test("does not lock himself out by a slip, though another owner may", async () => {
    const { owner, sales } = await h.company();
    const second = await owner.patch(`/members/${sales.memberId}`, { roles: ["owner"] }, 1);
    expect(second.status).toBe(200);
    const { version } = await memberOf(owner, owner.memberId);
    for (const change of [{ active: false }, { roles: ["estimator"] }]) {
      const refused = await owner.patch(`/members/${owner.memberId}`, change, version);
      expect(refused.status).toBe(409);
      expect(refused.body.detail).toContain("lock yourself out");
    }
    expect((await sales.patch(`/members/${owner.memberId}`, { active: false }, version)).status).toBe(200);
  });

  test("and another owner cannot put each other out at the same moment", async () => {
    const { owner, sales } = await h.company();
    await owner.patch(`/members/${sales.memberId}`, { roles: ["owner"] }, 1);
    const members = await Promise.all([memberOf(owner, owner.memberId), memberOf(owner, sales.memberId)]);
    const answers = await Promise.all([
      owner.patch(`/members/${sales.memberId}`, { active: false }, members[1].version),
      sales.patch(`/members/${owner.memberId}`, { active: false }, members[0].version),
    ]);
    expect(answers.map((a) => a.status).filter((s) => s === 200)).toHaveLength(1);
    const { rows } = await h.admin.query(
      "SELECT FROM members WHERE company_id = $1 AND active AND 'owner' = ANY (roles)",
      [owner.companyId],
    );
    expect(rows).toHaveLength(1);
  });

  test("is shown with when he was last seen", async () => {
    const { owner } = await h.company();
    const email = "seen@heron.example";
    await owner.post("/invitations", { ...NADIA, email });
    h.setNow("2026-11-30T12:00:00Z");
    const joined = await accept(await mailedKey(h, email, "join"));
    expect((await memberOf(owner, joined.body.member.id)).lastSeenAt).toBe("2026-11-30T12:00:00.000Z");
    expect((await memberOf(owner, owner.memberId)).lastSeenAt).toBeNull();
  });
});
