import type { AddressInfo } from "node:net";
import { openDatabase } from "@ledgerboard/database";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { lead, taken } from "../support/fixtures.ts";
import { type Client, type Harness, startHarness, type TestCompany } from "../support/harness.ts";

interface Event {
  event: string;
  data: Record<string, unknown>;
}
interface Stream {
  status: number;
  headers: Headers;
  events: Event[];
  text: () => string;
  /** Resolves when the server has ended the stream. */
  ended: Promise<void>;
  close: () => void;
}

/** Opens the change feed as a browser does, and gathers what comes. */
async function follow(h: Harness, who: Client): Promise<Stream> {
  const { port } = h.app.server.address() as AddressInfo;
  const abort = new AbortController();
  const answer = await fetch(`http://127.0.0.1:${port}/api/v1/events`, {
    headers: { Cookie: who.cookie },
    signal: abort.signal,
  });
  const events: Event[] = [];
  let text = "";
  const read = async () => {
    let rest = "";
    const decoder = new TextDecoder();
    for await (const chunk of answer.body ?? []) {
      text += decoder.decode(chunk, { stream: true });
      rest += decoder.decode(chunk, { stream: true });
      const blocks = rest.split("\n\n");
      rest = blocks.pop() ?? "";
      for (const block of blocks) {
        const event = /^event: (.*)$/m.exec(block)?.[1];
        const data = /^data: (.*)$/m.exec(block)?.[1];
        if (event && data) events.push({ event, data: JSON.parse(data) });
      }
    }
  };
  const ended = read().catch((error: Error) => {
    if (error.name !== "AbortError") throw error;
  });
  await vi.waitUntil(() => events.some((e) => e.event === "ready"), { timeout: 5_000 });
  return {
    status: answer.status,
    headers: answer.headers,
    events,
    text: () => text,
    ended,
    close: () => abort.abort(),
  };
}

const changes = (stream: Stream): Record<string, unknown>[] =>
  stream.events.filter((e) => e.event === "change").map((e) => e.data);

let h: Harness;
let a: TestCompany;
let b: TestCompany;
beforeAll(async () => {
  h = await startHarness();
  a = await h.company();
  b = await h.company();
});
afterAll(() => h.close());

describe("the change feed", () => {
  test("needs a session", async () => {
    const answer = await h.anonymous.get("/events");
    expect([answer.status, answer.body.type]).toEqual([401, "/problems/not-signed-in"]);
  });

  test("is an event stream that nobody keeps or gathers", async () => {
    const stream = await follow(h, a.sales);
    expect(stream.status).toBe(200);
    expect(stream.headers.get("content-type")).toBe("text/event-stream; charset=utf-8");
    expect(stream.headers.get("cache-control")).toBe("no-store");
    expect(stream.text()).toMatch(/^retry: \d+$/m);
    stream.close();
  });

  test("tells the company's people of a change, and nobody else", async () => {
    const [one, two, other] = [
      await follow(h, a.sales),
      await follow(h, a.lead_hand),
      await follow(h, b.owner),
    ];
    const { jobId } = await lead(a.sales);
    for (const stream of [one, two]) {
      await vi.waitUntil(
        () => changes(stream).some((c) => c.entity === "job" && c.id === jobId && c.jobId === jobId),
        {
          timeout: 5_000,
        },
      );
    }
    // What B is told of next is its own: had A's change been sent to B, it would have come before.
    const own = await lead(b.sales);
    await vi.waitUntil(() => changes(other).some((c) => c.id === own.jobId), { timeout: 5_000 });
    expect(
      changes(other)
        .filter((c) => c.jobId !== null)
        .map((c) => c.jobId),
    ).toEqual([own.jobId]);
    expect(other.text()).not.toContain(jobId);
    // Ids alone: no names, no words, no company.
    for (const change of changes(one)) expect(Object.keys(change).sort()).toEqual(["entity", "id", "jobId"]);
    expect(one.text()).not.toContain(a.companyId);
    for (const stream of [one, two, other]) stream.close();
  });

  test("says nothing of what was refused or taken back", async () => {
    const stream = await follow(h, a.owner);
    const { jobId } = await lead(a.sales);
    expect((await a.sales.post(`/jobs/${jobId}/reopen`, { why: "Not closed." })).status).toBe(409);
    const failing = h.database.withCompany(a.companyId, {}, async (db) => {
      await db.audit({ action: "x", entity: "taken_back", entityId: jobId, jobId, words: "x" });
      throw new Error("on purpose");
    });
    await expect(failing).rejects.toThrow("on purpose");
    taken(await a.owner.put(`/jobs/${jobId}/pin`, { why: "To come after." }));
    await vi.waitUntil(() => changes(stream).filter((c) => c.entity === "job").length >= 2, {
      timeout: 5_000,
    });
    expect(changes(stream).map((c) => c.entity)).not.toContain("taken_back");
    expect(changes(stream).filter((c) => c.entity === "job")).toHaveLength(2);
    stream.close();
  });

  test("brings changes made by another process", async () => {
    const stream = await follow(h, a.owner);
    const elsewhere = openDatabase({ url: h.appUrl, max: 1 });
    const id = crypto.randomUUID();
    await elsewhere.withCompany(a.companyId, {}, (db) =>
      db.audit({ action: "x", entity: "from_elsewhere", entityId: id, words: "x" }),
    );
    await vi.waitUntil(() => changes(stream).some((c) => c.entity === "from_elsewhere" && c.id === id), {
      timeout: 5_000,
    });
    await elsewhere.close();
    stream.close();
  });

  test("goes on for others when one goes away", async () => {
    const [gone, stays] = [await follow(h, a.sales), await follow(h, a.owner)];
    gone.close();
    await gone.ended;
    const { jobId } = await lead(a.sales);
    await vi.waitUntil(() => changes(stays).some((c) => c.jobId === jobId), { timeout: 5_000 });
    stays.close();
  });
});

test("a server that stops ends its streams and does not wait for them", async () => {
  const own = await startHarness();
  const c = await own.company();
  const streams = [await follow(own, c.owner), await follow(own, c.sales)];
  const started = performance.now();
  await own.close();
  await Promise.all(streams.map((s) => s.ended));
  // The streams would keep a server open for minutes.
  expect(performance.now() - started).toBeLessThan(20_000);
});
