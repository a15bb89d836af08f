import type { TenantDb } from "@ledgerboard/database";

/** The key of a row as Prisma wants it: every table's key begins with the company. */
export const rowKey = (db: TenantDb, id: string) => ({ companyId_id: { companyId: db.companyId, id } });
