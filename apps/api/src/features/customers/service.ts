import type { customers, Input } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { illegalMove, invalid } from "../../problem.ts";
import { rowKey } from "../keys.ts";
import { checkVersion, given } from "../versions.ts";
import { contactColumns } from "./normalise.ts";
import { readCustomer, readCustomerDetail, readProperty } from "./queries.ts";

export async function createCustomer(db: TenantDb, customer: customers.CustomerInput): Promise<string> {
  const row = await db.prisma.customer.create({
    data: { name: customer.name, notes: customer.notes, ...contactColumns(customer) },
  });
  await db.audit({
    action: "customer.created",
    entity: "customer",
    entityId: row.id,
    words: `${row.name} is new.`,
  });
  return row.id;
}

export async function createProperty(
  db: TenantDb,
  customerId: string,
  property: customers.PropertyInput,
): Promise<string> {
  const row = await db.prisma.property.create({ data: { customerId, ...property } });
  return row.id;
}

export async function updateCustomer(
  db: TenantDb,
  customerId: string,
  version: number,
  body: Input<typeof customers.updateCustomer>["body"],
) {
  const stored = await readCustomer(db, customerId, true);
  await checkVersion(stored.version, version, () => readCustomerDetail(db, customerId));
  const { name, notes, phone, email } = body;
  await db.prisma.customer.update({
    where: rowKey(db, customerId),
    data: { ...given({ name, notes }), ...contactColumns({ phone, email }) },
  });
  await db.audit({
    action: "customer.changed",
    entity: "customer",
    entityId: customerId,
    words: `${body.name ?? stored.name}: contact corrected.`,
    changes: { before: stored, after: given(body) },
  });
  return readCustomerDetail(db, customerId);
}

export async function updateProperty(
  db: TenantDb,
  propertyId: string,
  version: number,
  body: Input<typeof customers.updateProperty>["body"],
) {
  const stored = await readProperty(db, propertyId, true);
  await checkVersion(stored.version, version, () => stored);
  await db.prisma.property.update({
    where: rowKey(db, propertyId),
    data: given(body),
  });
  await db.audit({
    action: "property.changed",
    entity: "property",
    entityId: propertyId,
    words: `${stored.street}: property details corrected.`,
    changes: { before: stored, after: given(body) },
  });
  return readProperty(db, propertyId);
}

/** Folds `otherId` into `keepId`. Nothing moves: the other points at the one kept, so it can be undone. */
export async function mergeCustomers(db: TenantDb, keepId: string, otherId: string) {
  if (keepId === otherId) throw invalid("body.otherId", "Choose another customer; this is the same one.");
  // Both rows in one order, so that two merges at once cannot block each other.
  for (const id of [keepId, otherId].sort()) await readCustomer(db, id, true);
  const keep = await readCustomer(db, keepId);
  const other = await readCustomer(db, otherId);
  if (keep.mergedIntoId)
    throw illegalMove(`${keep.name} was folded into another customer. Merge into that one.`);
  if (other.mergedIntoId) throw illegalMove(`${other.name} is already folded into another customer.`);
  const [folded] =
    await db.sql`SELECT id FROM customers WHERE company_id = ${db.companyId} AND merged_into_id = ${otherId} LIMIT 1`;
  if (folded)
    throw illegalMove(
      `Others were folded into ${other.name}. Keep ${other.name} and merge the other way round.`,
    );
  await db.prisma.customer.update({
    where: rowKey(db, otherId),
    data: { mergedIntoId: keepId },
  });
  await db.audit({
    action: "customer.merged",
    entity: "customer",
    entityId: keepId,
    words: `${other.name} was folded into ${keep.name}.`,
    changes: { otherId },
  });
  return readCustomerDetail(db, keepId);
}

export async function unmergeCustomer(
  db: TenantDb,
  keepId: string,
  otherId: string,
): Promise<{ done: true }> {
  for (const id of [keepId, otherId].sort()) await readCustomer(db, id, true);
  const other = await readCustomer(db, otherId);
  if (other.mergedIntoId !== keepId) throw illegalMove("These two are not merged.");
  await db.prisma.customer.update({
    where: rowKey(db, otherId),
    data: { mergedIntoId: null },
  });
  await db.audit({
    action: "customer.unmerged",
    entity: "customer",
    entityId: keepId,
    words: `${other.name} stands alone again.`,
    changes: { otherId },
  });
  return { done: true };
}
