import type { Database } from "@ledgerboard/database";
import type { Config } from "./config.ts";

/** What request handlers share; passed by hand, so a test can give its own clock. */
export interface Services {
  config: Config;
  database: Database;
  /** The current instant. */
  now: () => Date;
}
