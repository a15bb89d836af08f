import type { Change, Database } from "@ledgerboard/database";
import type { FastifyInstance } from "fastify";
import { Problem } from "../problem.ts";
import { sessionHash } from "./session-cookie.ts";

const KEEP_ALIVE_MS = 20_000;
/** A session may end while its stream is open; the stream is closed after this long and asks again. */
const RECHECK_MS = 10 * 60_000;
const MAX_STREAMS = 5_000;

interface Listener {
  companyId: string;
  send: (text: string) => void;
}

/** GET /events: server-sent events, one for every audited change of the signed-in member's company. */
export function registerLive(app: FastifyInstance, database: Database): void {
  const listeners = new Set<Listener>();
  let stop: (() => Promise<void>) | undefined;

  app.addHook("onReady", async () => {
    stop = await database.listen((change: Change) => {
      const { company, ...rest } = change;
      const text = `event: change\ndata: ${JSON.stringify(rest)}\n\n`;
      for (const listener of listeners) if (listener.companyId === company) listener.send(text);
    });
  });
  app.addHook("preClose", async () => {
    for (const listener of listeners) listener.send("");
    listeners.clear();
    await stop?.();
  });

  app.get("/events", async (request, reply) => {
    const hash = sessionHash(request);
    const companyId =
      hash &&
      (await database.withSession(
        hash,
        { requestId: request.id, readOnly: true },
        async (s) => s?.who.companyId ?? null,
      ));
    if (!companyId) throw new Problem("not-signed-in", "Sign in, then try again.");
    if (listeners.size >= MAX_STREAMS)
      throw new Problem("unavailable", "Too many open screens; reload a little later.");

    reply.hijack();
    const stream = reply.raw;
    stream.writeHead(200, {
      "Content-Type": "text/event-stream; charset=utf-8",
      "Cache-Control": "no-store",
      Connection: "keep-alive",
      // Proxies that gather answers would hold events back.
      "X-Accel-Buffering": "no",
    });
    const end = (): void => {
      clearInterval(beat);
      clearTimeout(recheck);
      listeners.delete(listener);
      stream.end();
    };
    const listener: Listener = {
      companyId,
      // An empty text ends the stream: the server is closing.
      send: (text) => {
        if (text === "") end();
        else if (!stream.write(text) && stream.writableLength > 1_000_000) end();
      },
    };
    const beat = setInterval(() => stream.write(": still here\n\n"), KEEP_ALIVE_MS);
    const recheck = setTimeout(end, RECHECK_MS);
    stream.write("retry: 2000\nevent: ready\ndata: {}\n\n");
    listeners.add(listener);
    request.raw.on("close", end);
  });
}
