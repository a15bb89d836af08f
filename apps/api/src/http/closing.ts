import type { FastifyInstance } from "fastify";

/** A request that takes longer than this is not waited for. */
const PATIENCE_MS = 10_000;
const LOOK_MS = 50;

/**
 * Lets requests in hand be answered before the server closes, and waits for nothing else: a browser keeps its
 * connection open after the answer, and would otherwise hold the server for a minute.
 */
export function closeGently(app: FastifyInstance): void {
  let look: NodeJS.Timeout | undefined;
  let end: NodeJS.Timeout | undefined;
  app.addHook("preClose", async () => {
    look = setInterval(() => app.server.closeIdleConnections(), LOOK_MS);
    end = setTimeout(() => app.server.closeAllConnections(), PATIENCE_MS);
  });
  app.addHook("onClose", async () => {
    clearInterval(look);
    clearTimeout(end);
  });
}
