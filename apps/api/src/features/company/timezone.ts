import type { TenantDb } from "@ledgerboard/database";
import { isTimezone } from "../../days.ts";
import { invalid } from "../../problem.ts";

/**
 * Refuses a time zone that program and database do not both know by the same name. Bare offsets are refused: PostgreSQL
 * counts "+05:00" west of Greenwich, as POSIX does, and JavaScript east.
 */
export async function checkTimezone(db: TenantDb, timezone: string): Promise<void> {
  const fault = invalid("body.timezone", "Not a known time zone; it looks like America/New_York.");
  if (!/^[A-Za-z]/.test(timezone) || !isTimezone(timezone)) throw fault;
  const [known] = await db.sql`SELECT 1 FROM pg_timezone_names WHERE lower(name) = lower(${timezone})`;
  if (!known) throw fault;
}
