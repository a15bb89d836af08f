import type { Database } from "@ledgerboard/database";
import type { Config } from "./config.ts";
import type { Solver } from "./solver/pool.ts";

/** What request handlers share; passed by hand, so a test can give its own clock. */
export interface Services {
  config: Config;
  database: Database;
  /** The current instant. */
  now: () => Date;
}

/** What handlers of signed-in requests have besides. */
export interface RequestServices extends Services {
  /** Plans cuts in threads of its own. */
  solver: Solver;
}
