/** How a process of the service ends. */
import { failureWords } from "./plain-words.ts";

/** npm passes Ctrl-C on to a program that the terminal has already told: that is one wish, not two. */
const SAME_WISH_MS = 1_000;
/** Container runtimes commonly wait 10 to 30 seconds before they kill. */
const PATIENCE_MS = 25_000;

/**
 * At the first SIGINT or SIGTERM calls `close` and ends the process: with 0 when that succeeds, with 1 when it
 * fails or takes longer than 25 seconds. A second signal ends the process at once.
 */
export function stopOnSignal(close: (signal: string) => Promise<void>): void {
  let since: number | undefined;
  const onSignal = (signal: NodeJS.Signals): void => {
    if (since !== undefined) {
      if (performance.now() - since > SAME_WISH_MS) process.exit(1);
      return;
    }
    since = performance.now();
    setTimeout(() => {
      process.stderr.write("Stopping takes too long: ending now.\n");
      process.exit(1);
    }, PATIENCE_MS).unref();
    close(signal).then(
      () => process.exit(0),
      (error: unknown) => {
        process.stderr.write(`${failureWords(error)}\n`);
        process.exit(1);
      },
    );
  };
  process.on("SIGINT", onSignal);
  process.on("SIGTERM", onSignal);
}
