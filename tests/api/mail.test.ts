import type { AddressInfo } from "node:net";
import { createServer, type Socket } from "node:net";
import { deliverMail, openTransport } from "@ledgerboard/api/features/mail/deliver";
import { enqueueMail } from "@ledgerboard/api/features/mail/service";
import { startWorker } from "@ledgerboard/api/worker";
import { openQueue, prepareQueue, type Queue } from "@ledgerboard/database/queue";
import pg from "pg";
import { SMTPServer } from "smtp-server";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { type Harness, startHarness, type TestCompany } from "../support/harness.ts";

let h: Harness;
let c: TestCompany;
let queue: Queue;
const closing: (() => Promise<unknown>)[] = [];

beforeAll(async () => {
  h = await startHarness();
  // Two at once, as two processes starting together would.
  await Promise.all([prepareQueue(h.adminUrl), prepareQueue(h.adminUrl)]);
  c = await h.company();
  queue = await openQueue(h.appUrl);
});
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close();
  await h.admin.query(
    "DELETE FROM pgboss.job; UPDATE outbox_messages SET state = 'kept' WHERE state = 'pending'",
  );
  // Tests shorten the pauses; this puts them back.
  await prepareQueue(h.adminUrl);
});
afterAll(async () => {
  await queue.close();
  await h.close();
});

let letters = 0;
/** A mail in the company's outbox, committed. */
async function write(given: { to?: string; text?: string; dedupeKey?: string } = {}): Promise<string> {
  letters += 1;
  const mail = {
    kind: "note",
    to: given.to ?? "carla@customer.example",
    subject: `Your deck – part ${letters}`,
    text: given.text ?? "Hello Carla,\n\nthe boards – cedar – are here.",
    dedupeKey: given.dedupeKey ?? `note:${letters}`,
  };
  const id = await h.database.withCompany(c.companyId, {}, (db) => enqueueMail(db, mail));
  return id as string;
}
const stored = async (id: string) =>
  (await h.admin.query("SELECT * FROM outbox_messages WHERE id = $1", [id])).rows[0];
const jobs = async () => (await h.admin.query("SELECT * FROM pgboss.job ORDER BY created_on")).rows;
const becomes = (id: string, state: string) =>
  expect.poll(async () => (await stored(id)).state, { timeout: 15_000, interval: 50 }).toBe(state);

/** Works the queue off until the test ends. */
function work(smtpUrl: string | undefined, by: Queue = queue): unknown[] {
  const errors: unknown[] = [];
  const { SMTP_URL, ...config } = h.services.config;
  expect(SMTP_URL).toBeUndefined();
  const services = { ...h.services, config: smtpUrl ? { ...config, SMTP_URL: smtpUrl } : config };
  closing.push(startWorker({ services, queue: by, onError: (error) => errors.push(error) }));
  return errors;
}

interface Received {
  to: string[];
  raw: string;
}

/** A real mail server on this machine; `answer` may refuse a recipient with an SMTP code. */
async function mailServer(answer: (to: string, nth: number) => number | null = () => null) {
  const received: Received[] = [];
  let asked = 0;
  const server = new SMTPServer({
    disabledCommands: ["STARTTLS", "AUTH"],
    onRcptTo({ address }, _session, done) {
      asked += 1;
      const code = answer(address, asked);
      done(code === null ? null : Object.assign(new Error("Not now, not here."), { responseCode: code }));
    },
    onData(stream, session, done) {
      const chunks: Buffer[] = [];
      stream.on("data", (chunk: Buffer) => chunks.push(chunk));
      stream.on("end", () => {
        received.push({
          to: session.envelope.rcptTo.map((r) => r.address),
          raw: Buffer.concat(chunks).toString("utf8"),
        });
        done();
      });
    },
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  closing.push(() => new Promise<void>((closed) => server.close(() => closed())));
  return { received, url: `smtp://127.0.0.1:${(server.server.address() as AddressInfo).port}` };
}

describe("writing a mail", () => {
  test("happens with the change that causes it or not at all", async () => {
    const mail = { kind: "note", to: "a@b.example", subject: "S", text: "T", dedupeKey: "rolled-back" };
    const undone = h.database.withCompany(c.companyId, {}, async (db) => {
      expect(await enqueueMail(db, mail)).not.toBeNull();
      throw new Error("changed my mind");
    });
    await expect(undone).rejects.toThrow("changed my mind");
    const { rows } = await h.admin.query("SELECT FROM outbox_messages WHERE dedupe_key = 'rolled-back'");
    expect(rows).toHaveLength(0);
    expect(await jobs()).toHaveLength(0);

    const id = await write({ dedupeKey: "kept" });
    expect(await stored(id)).toMatchObject({ state: "pending", attempts: 0, company_id: c.companyId });
    const [job] = await jobs();
    // Ids only: the queue belongs to no tenant.
    expect(job.data).toEqual({ companyId: c.companyId, messageId: id });
    expect(job).toMatchObject({
      name: "deliver-mail",
      retry_limit: 10,
      retry_delay: 30,
      retry_backoff: true,
    });
  });

  test("happens once for one dedupe key, and apart in another company", async () => {
    const first = await write({ dedupeKey: "once" });
    expect(first).toBeTypeOf("string");
    expect(await write({ dedupeKey: "once" })).toBeNull();
    expect(await jobs()).toHaveLength(1);
    const other = await h.company();
    const mail = { kind: "note", to: "a@b.example", subject: "S", text: "T", dedupeKey: "once" };
    expect(await h.database.withCompany(other.companyId, {}, (db) => enqueueMail(db, mail))).not.toBeNull();
    const listed = (await other.owner.get("/company/outbox")).body.items;
    expect(listed.map((m: { subject: string }) => m.subject)).toEqual(["S"]);
  });

  test("needs no worker: the request is answered and the mail waits", async () => {
    const invited = await c.owner.post("/invitations", {
      name: "Nadia",
      email: "nadia@heron.example",
      roles: ["sales"],
    });
    expect(invited.status).toBe(201);
    const [mail] = (await c.owner.get("/company/outbox")).body.items;
    expect(mail).toMatchObject({
      kind: "invitation",
      to: "nadia@heron.example",
      state: "pending",
      attempts: 0,
    });
  });

  test("says so when the queue was never prepared", async () => {
    const bare = await startHarness();
    try {
      await bare.admin.query("DROP SCHEMA IF EXISTS pgboss CASCADE");
      const company = await bare.company();
      const mail = { kind: "note", to: "a@b.example", subject: "S", text: "T", dedupeKey: "d" };
      const sent = bare.database.withCompany(company.companyId, {}, (db) => enqueueMail(db, mail));
      await expect(sent).rejects.toThrow("run prepareQueue");
      await expect(openQueue(bare.appUrl)).rejects.toThrow("not installed");
    } finally {
      await bare.close();
    }
  });
});

describe("the outbox", () => {
  test("is the owner's, newest first, page by page", async () => {
    const company = await h.company();
    const mails = ["first", "second", "third"];
    for (const subject of mails) {
      const mail = { kind: "note", to: "a@b.example", subject, text: "T", dedupeKey: subject };
      await h.database.withCompany(company.companyId, {}, (db) => enqueueMail(db, mail));
    }
    const page = (await company.owner.get("/company/outbox", { limit: 2 })).body;
    const rest = (await company.owner.get("/company/outbox", { limit: 2, after: page.next })).body;
    const subjects = [...page.items, ...rest.items].map((m: { subject: string }) => m.subject);
    expect(subjects).toEqual(["third", "second", "first"]);
    expect(rest.next).toBeNull();
    expect((await company.owner.get("/company/outbox", { after: "made-up" })).status).toBe(422);
    for (const client of [company.sales, company.estimator, company.scheduler, company.lead_hand]) {
      expect((await client.get("/company/outbox")).status).toBe(403);
    }
  });

  test("keeps mail where no mail server is set up, links and all", async () => {
    const link = `http://127.0.0.1:8080/reset/${"k".repeat(43)}`;
    const id = await write({ text: `Set it here:\n\n${link}` });
    const errors = work(undefined);
    await becomes(id, "kept");
    const [mail] = (await c.owner.get("/company/outbox")).body.items;
    expect(mail).toMatchObject({ id, state: "kept", attempts: 0, sentAt: null });
    expect(mail.text).toContain(link);
    await expect.poll(async () => (await jobs()).map((j) => j.state)).toEqual(["completed"]);
    expect(errors).toEqual([]);
  });

  test("does not show the owner other people's links where a mail server delivers them", async () => {
    const served = await startHarness({ SMTP_URL: "smtp://127.0.0.1:1" });
    try {
      const { owner } = await served.company();
      await owner.post("/invitations", { name: "N", email: "n@heron.example", roles: ["owner"] });
      const [mail] = (await owner.get("/company/outbox")).body.items;
      expect(mail.text).toMatch(/\/join\/…\n/);
      expect(mail.text).not.toMatch(/[A-Za-z0-9_-]{43}/);
    } finally {
      await served.close();
    }
  });
});

describe("delivering", () => {
  test("hands the mail to the server and forgets its link", async () => {
    const smtp = await mailServer();
    const key = "k".repeat(43);
    const id = await write({
      to: "nadia@heron.example",
      text: `Hello – set it:\n\nhttp://x.example/reset/${key}\n`,
    });
    const errors = work(smtp.url);
    await becomes(id, "sent");
    expect(smtp.received).toHaveLength(1);
    const { to, raw } = smtp.received[0] as Received;
    expect(to).toEqual(["nadia@heron.example"]);
    expect(raw).toContain(`Message-ID: <${id}@127.0.0.1>`);
    expect(raw).toContain("From: Ledgerboard <office@ledgerboard.example>");
    expect(raw).toContain("Auto-Submitted: auto-generated");
    expect(raw.replaceAll("=\r\n", "")).toContain(key);
    const row = await stored(id);
    expect(row).toMatchObject({ attempts: 1, last_error: null });
    expect(row.sent_at).toBeInstanceOf(Date);
    expect(row.body).toBe("Hello – set it:\n\nhttp://x.example/reset/…\n");
    const { rows } = await h.admin.query("SELECT action, words FROM audit_entries WHERE entity_id = $1", [
      id,
    ]);
    expect(rows).toEqual([{ action: "mail.sent", words: `The mail “${row.subject}” was sent.` }]);
    expect(errors).toEqual([]);
  });

  test("is tried again when the server does not take it now", async () => {
    await h.admin.query("UPDATE pgboss.queue SET retry_delay = 1, retry_backoff = false");
    const smtp = await mailServer((_to, nth) => (nth === 1 ? 451 : null));
    const id = await write();
    const errors = work(smtp.url);
    await expect.poll(async () => (await stored(id)).last_error, { timeout: 10_000 }).toContain("Not now");
    expect((await stored(id)).state).toBe("pending");
    await becomes(id, "sent");
    expect(await stored(id)).toMatchObject({ attempts: 2, last_error: null });
    expect(smtp.received).toHaveLength(1);
    expect(errors).toHaveLength(1);
  });

  test("is given up after the last try", async () => {
    await h.admin.query("UPDATE pgboss.queue SET retry_limit = 2, retry_delay = 0, retry_backoff = false");
    const smtp = await mailServer(() => 451);
    const id = await write();
    work(smtp.url);
    await becomes(id, "failed");
    expect(await stored(id)).toMatchObject({ attempts: 3, sent_at: null });
    expect((await stored(id)).last_error).toContain("451");
    expect(smtp.received).toHaveLength(0);
    const { rows } = await h.admin.query("SELECT action FROM audit_entries WHERE entity_id = $1", [id]);
    expect(rows).toEqual([{ action: "mail.failed" }]);
  });

  test("is given up at once when the server refuses for good, and others go through", async () => {
    const smtp = await mailServer((to) => (to.startsWith("gone") ? 550 : null));
    const refused = await write({ to: "gone@customer.example" });
    const fine = await write();
    work(smtp.url);
    await becomes(refused, "failed");
    await becomes(fine, "sent");
    expect(await stored(refused)).toMatchObject({ attempts: 1 });
    expect((await stored(refused)).last_error).toContain("550");
    await expect.poll(async () => (await jobs()).map((j) => j.state)).toEqual(["completed", "completed"]);
  });

  test("to a server that is not there is tried later", async () => {
    const id = await write();
    work("smtp://127.0.0.1:1");
    await expect
      .poll(async () => (await stored(id)).last_error, { timeout: 10_000 })
      .toContain("ECONNREFUSED");
    expect((await stored(id)).state).toBe("pending");
    await expect
      .poll(async () => (await jobs()).map((j) => [j.state, j.start_after > new Date(Date.now() + 25_000)]))
      .toEqual([["retry", true]]);
  });

  test("through a silent server holds up no request", async () => {
    const held: Socket[] = [];
    const silent = createServer((socket) => held.push(socket));
    await new Promise<void>((ready) => silent.listen(0, "127.0.0.1", ready));
    for (let i = 0; i < 8; i++) await write();
    work(`smtp://127.0.0.1:${(silent.address() as AddressInfo).port}`);
    closing.push(
      () =>
        new Promise<void>((closed) => {
          for (const socket of held) socket.destroy();
          silent.close(() => closed());
        }),
    );
    await expect.poll(() => held.length, { timeout: 5_000 }).toBe(4);
    const start = performance.now();
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, i) =>
        c.owner.post("/invitations", { name: "N", email: `n${i}@slow.example`, roles: ["sales"] }),
      ),
    );
    expect(answers.map((a) => a.status)).toEqual(Array(20).fill(201));
    expect(performance.now() - start).toBeLessThan(5_000);
    expect(held).toHaveLength(4);
  });

  test("of what was sent already does nothing", async () => {
    const smtp = await mailServer();
    const messageId = await write();
    const transport = openTransport(smtp.url);
    const job = { companyId: c.companyId, messageId, lastAttempt: false };
    for (let i = 0; i < 3; i++) await deliverMail(h.services, transport, job);
    expect(smtp.received).toHaveLength(1);
    expect((await stored(messageId)).attempts).toBe(1);
    // Another company's job cannot reach it.
    const other = await h.company();
    const second = await write();
    await deliverMail(h.services, transport, { ...job, companyId: other.companyId, messageId: second });
    expect(smtp.received).toHaveLength(1);
    expect((await stored(second)).state).toBe("pending");
    transport.close();
  });

  test("is shared by several workers, each mail once", async () => {
    const smtp = await mailServer();
    const ids: string[] = [];
    for (let i = 0; i < 12; i++) ids.push(await write());
    const second = await openQueue(h.appUrl);
    closing.push(() => second.close());
    work(smtp.url);
    work(smtp.url, second);
    for (const id of ids) await becomes(id, "sent");
    expect(smtp.received).toHaveLength(12);
    expect(new Set(smtp.received.map((m) => /Message-ID: <(\S+)@/.exec(m.raw)?.[1]))).toEqual(new Set(ids));
  });

  test("is taken over from a worker that died, and old jobs are put away", async () => {
    const smtp = await mailServer();
    const id = await write();
    await h.admin.query("UPDATE pgboss.job SET state = 'active', started_on = now() - interval '3 minutes'");
    await h.admin.query(
      `INSERT INTO pgboss.job (name, state, started_on, completed_on)
       VALUES ('deliver-mail', 'completed', now() - interval '2 days', now() - interval '2 days')`,
    );
    const keeper = await openQueue(h.appUrl, { upkeepSeconds: 1 });
    closing.push(() => keeper.close());
    await h.admin.query("UPDATE pgboss.job SET retry_delay = 0, retry_backoff = false");
    work(smtp.url);
    await becomes(id, "sent");
    expect(smtp.received).toHaveLength(1);
    const archived = async () => (await h.admin.query("SELECT FROM pgboss.archive")).rows.length;
    await expect.poll(archived, { timeout: 10_000 }).toBe(1);
  });

  test("goes on after the database was gone for a moment", async () => {
    const smtp = await mailServer();
    work(smtp.url);
    const before = await write();
    await becomes(before, "sent");
    await h.admin.query(
      "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name LIKE 'ledgerboard%' AND datname = current_database()",
    );
    let after: string | null = null;
    for (let tries = 0; after === null && tries < 20; tries++) after = await write().catch(() => null);
    await becomes(after ?? "none was written", "sent");
    expect(smtp.received).toHaveLength(2);
  });
});

test("the program's role may use the queue and not change it", async () => {
  const app = new pg.Client({ connectionString: h.appUrl });
  await app.connect();
  try {
    for (const statement of [
      "DROP TABLE pgboss.job",
      "ALTER TABLE pgboss.job ADD COLUMN x int",
      "UPDATE pgboss.queue SET retry_limit = 0",
      "SELECT pgboss.create_queue('another', '{}')",
      "CREATE TABLE pgboss.mine (x int)",
    ]) {
      await expect(app.query(statement), statement).rejects.toMatchObject({ code: "42501" });
    }
  } finally {
    await app.end();
  }
});
