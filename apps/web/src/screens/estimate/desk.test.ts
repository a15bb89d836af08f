import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { Desk } from "./desk.ts";
import { scopeLine } from "./line.fixture.ts";

interface Sent {
  version: string | null;
  body: Record<string, unknown>;
}

/** A service with one line in it, which keeps to If-Match as the real one does. */
function service(line: ScopeLine) {
  const sent: Sent[] = [];
  const state = { line, down: false, answerLost: false, hold: Promise.resolve() };
  const answer = (status: number, body: unknown) => new Response(JSON.stringify(body), { status });
  vi.stubGlobal("fetch", async (_: string, init: { headers: Record<string, string>; body: string }) => {
    if (state.down) throw new TypeError("no network");
    const body = JSON.parse(init.body) as Record<string, unknown>;
    sent.push({ version: init.headers["if-match"] ?? null, body });
    await state.hold;
    if (init.headers["if-match"] !== `"${state.line.version}"`)
      return answer(412, {
        type: "/problems/version-stale",
        title: "Somebody changed this meanwhile.",
        status: 412,
        current: state.line,
      });
    state.line = { ...state.line, reviewed: true, ...body, version: state.line.version + 1 } as ScopeLine;
    if (state.answerLost) {
      state.answerLost = false;
      throw new TypeError("connection lost");
    }
    return answer(200, state.line);
  });
  return { sent, state };
}

const line = scopeLine();
const settled = () => vi.advanceTimersByTimeAsync(0);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe("Desk", () => {
  it("saves what changed, once, with the version it was read at, after a pause in typing", async () => {
    const { sent } = service(line);
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "2" });
    desk.change(line, { quantity: "22" });
    expect(desk.draft(line.id)?.standing).toBe("waiting");
    await vi.advanceTimersByTimeAsync(3000);
    expect(sent).toEqual([{ version: '"1"', body: { quantity: "22" } }]);
    expect(desk.draft(line.id)).toBeUndefined();
    expect(desk.isSaved(line.id)).toBe(true);
  });

  it("sends nothing while something is missing, and says it is not saved", async () => {
    const { sent } = service(line);
    const desk = new Desk("job", "revision", "member");
    desk.problem = () => "choose why it differs";
    desk.change(line, { quantity: "22" });
    desk.flush(line.id);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(sent).toEqual([]);
    expect(desk.unsaved()).toHaveLength(1);
  });

  it("forgets an edit that was taken back", () => {
    service(line);
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.change(line, { quantity: "26" });
    expect(desk.unsaved()).toHaveLength(0);
  });

  it("keeps both sides of a conflict until somebody chooses, then saves over the newer version", async () => {
    const { sent, state } = service(scopeLine({ quantity: "30", version: 2 }));
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.flush(line.id);
    await settled();
    expect(desk.draft(line.id)).toMatchObject({
      standing: "overtaken",
      edit: { quantity: "22" },
      theirs: { quantity: "30" },
    });
    await vi.advanceTimersByTimeAsync(20_000);
    expect(sent).toHaveLength(1);
    desk.settle(line.id, "mine");
    await settled();
    expect(sent.at(-1)).toEqual({ version: '"2"', body: { quantity: "22" } });
    expect(state.line.quantity).toBe("22");
    expect(desk.unsaved()).toHaveLength(0);
  });

  it("goes on from a newer version that changed nothing a person decides", async () => {
    const { sent, state } = service(scopeLine({ version: 2 }));
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.follow([state.line]);
    await vi.advanceTimersByTimeAsync(3000);
    expect(sent).toEqual([{ version: '"2"', body: { quantity: "22" } }]);
  });

  it("keeps what was typed without a connection, and saves it when there is one again", async () => {
    const { sent, state } = service(line);
    state.down = true;
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.flush(line.id);
    await settled();
    expect(desk.draft(line.id)).toMatchObject({ standing: "failed", edit: { quantity: "22" } });
    state.down = false;
    desk.flushAll();
    await settled();
    expect(sent).toHaveLength(1);
    expect(desk.unsaved()).toHaveLength(0);
  });

  it("takes a save whose answer was lost for what it is: saved", async () => {
    const { state } = service(line);
    state.answerLost = true;
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.flush(line.id);
    await vi.advanceTimersByTimeAsync(20_000);
    expect(desk.draft(line.id)).toBeUndefined();
    expect(desk.isSaved(line.id)).toBe(true);
    expect(state.line).toMatchObject({ quantity: "22", version: 2 });
  });

  it("saves what was typed during a save with the version that save made", async () => {
    const { sent, state } = service(line);
    let release = () => {};
    state.hold = new Promise((done) => {
      release = done;
    });
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.flush(line.id);
    await settled();
    desk.change(line, { quantity: "23" });
    release();
    await vi.advanceTimersByTimeAsync(3000);
    expect(sent.map(({ version, body }) => [version, body])).toEqual([
      ['"1"', { quantity: "22" }],
      ['"2"', { quantity: "23" }],
    ]);
    expect(desk.unsaved()).toHaveLength(0);
  });

  it("marks a line as reviewed without touching it", async () => {
    const { sent } = service(line);
    const desk = new Desk("job", "revision", "member");
    desk.change(line, {}, true);
    desk.flush(line.id);
    await settled();
    expect(sent).toEqual([{ version: '"1"', body: { reviewed: true } }]);
    expect(desk.unsaved()).toHaveLength(0);
  });

  it("lets go of a line that somebody took out", () => {
    service(line);
    const desk = new Desk("job", "revision", "member");
    desk.change(line, { quantity: "22" });
    desk.follow([]);
    expect(desk.unsaved()).toHaveLength(0);
  });
});
