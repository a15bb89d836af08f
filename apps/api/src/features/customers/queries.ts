import type { customers, Output } from "@ledgerboard/contracts";
import { NOTHING, part, type SqlPart, type TenantDb } from "@ledgerboard/database";
import { notFound } from "../../problem.ts";
import { containing } from "../search.ts";

interface CustomerRow extends customers.Customer {
  mergedIntoId: string | null;
}

/** A customer by id, merged or not. Locked for the rest of the transaction when `lock`. */
export async function readCustomer(db: TenantDb, customerId: string, lock = false): Promise<CustomerRow> {
  const [row] = lock
    ? await db.sql<CustomerRow>`SELECT id, name, phone, email, notes, version, merged_into_id AS "mergedIntoId"
        FROM customers WHERE company_id = ${db.companyId} AND id = ${customerId} FOR UPDATE`
    : await db.sql<CustomerRow>`SELECT id, name, phone, email, notes, version, merged_into_id AS "mergedIntoId"
        FROM customers WHERE company_id = ${db.companyId} AND id = ${customerId}`;
  if (!row) throw notFound("customer");
  return row;
}

/** Who a customer is now: himself, or whom he was folded into. */
export async function readMainCustomer(db: TenantDb, customerId: string): Promise<customers.Customer> {
  const [row] = await db.sql<customers.Customer>`
    SELECT m.id, m.name, m.phone, m.email, m.notes, m.version
    FROM customers c JOIN customers m ON m.company_id = c.company_id AND m.id = coalesce(c.merged_into_id, c.id)
    WHERE c.company_id = ${db.companyId} AND c.id = ${customerId}`;
  if (!row) throw notFound("customer");
  return row;
}

/** A customer with the properties and jobs of everybody folded into him. A merged id answers with who it became. */
export async function readCustomerDetail(
  db: TenantDb,
  customerId: string,
): Promise<Output<typeof customers.getCustomer>> {
  const customer = await readMainCustomer(db, customerId);
  const properties = await db.sql<customers.Property>`
    SELECT p.id, p.street, p.city, p.state, p.postal_code AS "postalCode", p.latitude::float8 AS latitude,
           p.longitude::float8 AS longitude, p.year_built AS "yearBuilt", p.access_notes AS "accessNotes",
           p.salt_exposure AS "saltExposure", p.version
    FROM properties p JOIN customers c ON c.company_id = p.company_id AND c.id = p.customer_id
    WHERE p.company_id = ${db.companyId} AND (c.id = ${customer.id} OR c.merged_into_id = ${customer.id})
    ORDER BY p.id`;
  const jobs = await db.sql<{ id: string; number: string; title: string; stage: string }>`
    SELECT j.id, j.number, j.title, j.stage
    FROM jobs j JOIN customers c ON c.company_id = j.company_id AND c.id = j.customer_id
    WHERE j.company_id = ${db.companyId} AND (c.id = ${customer.id} OR c.merged_into_id = ${customer.id})
    ORDER BY j.id DESC LIMIT 200`;
  return { ...customer, properties, jobs };
}

export async function readProperty(
  db: TenantDb,
  propertyId: string,
  lock = false,
): Promise<customers.Property> {
  if (lock)
    await db.sql`SELECT id FROM properties WHERE company_id = ${db.companyId} AND id = ${propertyId} FOR UPDATE`;
  const [row] = await db.sql<customers.Property>`
    SELECT id, street, city, state, postal_code AS "postalCode", latitude::float8 AS latitude,
           longitude::float8 AS longitude, year_built AS "yearBuilt", access_notes AS "accessNotes",
           salt_exposure AS "saltExposure", version
    FROM properties WHERE company_id = ${db.companyId} AND id = ${propertyId}`;
  if (!row) throw notFound("property");
  return row;
}

/** Whom a search finds: by a part of the name or mail address, or at least four digits of the phone number. */
function found(search: string): SqlPart {
  const pattern = containing(search);
  const digits = search.replace(/\D/g, "");
  return part`AND (lower(c.name) LIKE ${pattern} OR c.email_normalized LIKE ${pattern}
    OR c.phone_normalized LIKE ${digits.length >= 4 ? `%${digits}%` : null})`;
}

/** Customers in order of name from a place in the list; merged ones are left out. */
export async function listCustomers(
  db: TenantDb,
  search: string | null,
  after: readonly [name: string, id: string] | null,
  limit: number,
): Promise<(customers.Customer & { jobCount: number })[]> {
  return db.sql`
    SELECT c.id, c.name, c.phone, c.email, c.notes, c.version,
      (SELECT count(*) FROM customers m JOIN jobs j ON j.company_id = m.company_id AND j.customer_id = m.id
        WHERE m.company_id = c.company_id AND (m.id = c.id OR m.merged_into_id = c.id)) AS "jobCount"
    FROM customers c
    WHERE c.company_id = ${db.companyId} AND c.merged_into_id IS NULL
      ${search === null ? NOTHING : found(search)}
      ${after === null ? NOTHING : part`AND (c.name, c.id) > (${after[0]}, ${after[1]}::uuid)`}
    ORDER BY c.name, c.id LIMIT ${limit}`;
}

/** Who shares a normalised phone number or mail address with this customer. */
export async function findDuplicatesOf(db: TenantDb, customerId: string): Promise<customers.Customer[]> {
  return db.sql<customers.Customer>`
    SELECT o.id, o.name, o.phone, o.email, o.notes, o.version
    FROM customers c JOIN customers o ON o.company_id = c.company_id AND o.id <> c.id AND o.merged_into_id IS NULL
      AND (o.phone_normalized = c.phone_normalized OR o.email_normalized = c.email_normalized)
    WHERE c.company_id = ${db.companyId} AND c.id = ${customerId} ORDER BY o.id LIMIT 20`;
}

/** Every pair that shares a phone number or mail address, the older first. */
export async function listDuplicates(
  db: TenantDb,
): Promise<Output<typeof customers.listDuplicates>["items"]> {
  const rows = await db.sql<{ a: customers.Customer; b: customers.Customer; phone: boolean; email: boolean }>`
    SELECT json_build_object('id', a.id, 'name', a.name, 'phone', a.phone, 'email', a.email, 'notes', a.notes, 'version', a.version) AS a,
           json_build_object('id', b.id, 'name', b.name, 'phone', b.phone, 'email', b.email, 'notes', b.notes, 'version', b.version) AS b,
           a.phone_normalized IS NOT NULL AND a.phone_normalized = b.phone_normalized AS phone,
           a.email_normalized IS NOT NULL AND a.email_normalized = b.email_normalized AS email
    FROM customers a JOIN customers b ON b.company_id = a.company_id AND b.id > a.id AND b.merged_into_id IS NULL
      AND (b.phone_normalized = a.phone_normalized OR b.email_normalized = a.email_normalized)
    WHERE a.company_id = ${db.companyId} AND a.merged_into_id IS NULL
    ORDER BY a.id, b.id LIMIT 100`;
  return rows.map(({ a, b, phone, email }) => ({
    keep: a,
    other: b,
    shared: [...(phone ? (["phone"] as const) : []), ...(email ? (["email"] as const) : [])],
  }));
}
