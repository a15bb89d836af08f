/** What the person at the terminal reads when something cannot be done. */

/** What to print of a failure: its words; also where it happened, when LOG_LEVEL is "debug". */
export function failureWords(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  return process.env.LOG_LEVEL === "debug" ? (error.stack ?? error.message) : error.message;
}

/** The same failure in plain words where the address is the reason, otherwise the failure itself. */
export function portProblem(error: unknown, host: string, port: number): unknown {
  const { code } = error as { code?: string };
  if (code === "EADDRINUSE") {
    return new Error(`Port ${port} is in use: stop the program that uses it, or set PORT to another.`);
  }
  if (code === "EACCES")
    return new Error(`Port ${port} may not be used by this user: set PORT to 1024 or more.`);
  if (code === "EADDRNOTAVAIL" || code === "ENOTFOUND") {
    return new Error(`This computer has no address ${host}: set HOST to one it has, such as 127.0.0.1.`);
  }
  return error;
}
