import type { Database, RouteKind } from "@ledgerboard/database";
import { hashToken } from "../../http/session-cookie.ts";
import { Problem } from "../../problem.ts";

/** Used, taken back, replaced, expired and never sent are answered alike. */
export const linkEnded = (): Problem =>
  new Problem("gone", "The link was used, replaced or has expired. Ask for a new one.");

/** The company a mailed link leads into. Throws when it is none of ours. */
export async function companyOfLink(database: Database, kind: RouteKind, token: string): Promise<string> {
  const [companyId] = await database.findCompanies(kind, hashToken(token));
  if (!companyId) throw linkEnded();
  return companyId;
}
