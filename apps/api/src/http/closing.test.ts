import type { AddressInfo } from "node:net";
import Fastify from "fastify";
import { expect, test } from "vitest";
import { closeGently } from "./closing.ts";

test("a request in hand is answered, and the connection it leaves open does not hold the server", async () => {
  const app = Fastify({ forceCloseConnections: "idle" });
  closeGently(app);
  let entered = (): void => undefined;
  let finish = (): void => undefined;
  const inHand = new Promise<void>((resolve) => {
    entered = resolve;
  });
  const held = new Promise<void>((resolve) => {
    finish = resolve;
  });
  app.get("/", async () => {
    entered();
    await held;
    return { done: true };
  });
  await app.listen({ port: 0, host: "127.0.0.1" });
  const { port } = app.server.address() as AddressInfo;
  const answer = fetch(`http://127.0.0.1:${port}/`);
  await inHand;

  let closed = false;
  const closing = app.close().then(() => {
    closed = true;
  });
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect(closed).toBe(false);
  finish();
  expect(await (await answer).json()).toEqual({ done: true });
  // Would stand until the keep-alive time of over a minute runs out, past the limit of this test.
  await closing;
});
