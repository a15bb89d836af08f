export { Prisma } from "./generated/prisma/client.ts";
export { NOTHING, part, type SqlPart } from "./sql.ts";
export type {
  Actor,
  AuditEntry,
  Change,
  Database,
  RouteKind,
  SignedIn,
  TenantDb,
  TenantPrisma,
} from "./tenancy.ts";
export { DatabaseUnavailable, openDatabase } from "./tenancy.ts";
