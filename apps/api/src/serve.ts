/** What a process of the service can do: answer requests, and work off the queue. */
import { openQueue } from "@ledgerboard/database/queue";
import { buildApp } from "./app.ts";
import { portProblem } from "./plain-words.ts";
import type { Services } from "./services.ts";
import { startWorker } from "./worker.ts";

export interface Running {
  /** Finishes what is in hand and lets go of everything that was opened. */
  close(): Promise<void>;
}

/**
 * Answers requests at HOST and PORT of the settings.
 *
 * @param webRoot the built web app, served beside the API.
 * @throws when the port is taken, with a sentence that says what to do.
 */
export async function serveRequests(
  services: Services,
  { webRoot }: { webRoot?: string } = {},
): Promise<Running & { url: string }> {
  const { HOST, PORT } = services.config;
  const app = await buildApp(services, webRoot ? { webRoot } : {});
  try {
    const url = await app.listen({ host: HOST, port: PORT });
    return { url, close: () => app.close() };
  } catch (error) {
    await app.close();
    throw portProblem(error, HOST, PORT);
  }
}

/** Delivers what requests left in the queue; failed tries are reported to `onError` and tried again later. */
export async function serveQueue(services: Services, onError: (error: unknown) => void): Promise<Running> {
  const queue = await openQueue(services.config.DATABASE_URL);
  const stop = startWorker({ services, queue, onError });
  return {
    async close() {
      await stop();
      await queue.close();
    },
  };
}
