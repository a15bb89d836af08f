import type { TenantDb } from "@ledgerboard/database";

/** The next gap-free number of a scope ("HP-26", "Q-26"), as "HP-26-0143". */
export async function nextNumber(db: TenantDb, scope: string): Promise<string> {
  const [row] = await db.sql<{ last: number }>`
    INSERT INTO number_sequences (company_id, scope, last) VALUES (${db.companyId}, ${scope}, 1)
    ON CONFLICT (company_id, scope) DO UPDATE SET last = number_sequences.last + 1 RETURNING last`;
  return `${scope}-${String(row?.last ?? 1).padStart(4, "0")}`;
}
