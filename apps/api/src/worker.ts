import type { Queue } from "@ledgerboard/database/queue";
import { deliverMail, openTransport } from "./features/mail/deliver.ts";
import type { Services } from "./services.ts";

/** Mails on their way at once: a slow mail server holds up this many and nothing else. */
const MAILS_AT_ONCE = 4;

/**
 * Works off what requests left in the queue: mail. Runs beside the server or in a process of its own; several at
 * once share the work. `onError` hears of every failed try. Returns what stops it, once the mails in hand are
 * through or given back.
 */
export function startWorker({
  services,
  queue,
  onError,
}: {
  services: Services;
  queue: Queue;
  onError: (error: unknown) => void;
}): () => Promise<void> {
  const { SMTP_URL } = services.config;
  const transport = SMTP_URL ? openTransport(SMTP_URL) : null;
  const stop = queue.work("deliver-mail", { atOnce: MAILS_AT_ONCE, onError }, ({ data, lastAttempt }) =>
    deliverMail(services, transport, { ...data, lastAttempt }),
  );
  return async () => {
    await stop();
    transport?.close();
  };
}
