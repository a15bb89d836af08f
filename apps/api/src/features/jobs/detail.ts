import type { Component, jobs } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { workCautions } from "@ledgerboard/rules";
import { deriveJob } from "@ledgerboard/scheduling";
import { notFound } from "../../problem.ts";
import { usd } from "../money.ts";
import { type JobRecord, toJobRow } from "./rows.ts";

interface Person {
  id: string;
  name: string;
}

interface DetailRecord extends JobRecord {
  /** Who the customer is now: himself, or whom he was folded into. */
  customer: jobs.Job["customer"];
  property: jobs.Job["property"];
  closed_reason: NonNullable<jobs.Job["closed"]>["reason"] | null;
  closed_note: string;
  lead: jobs.Job["lead"];
  salesperson: Person | null;
  estimator: Person | null;
}

async function readRecord(db: TenantDb, jobId: string): Promise<DetailRecord> {
  const [row] = await db.sql<DetailRecord>`
    SELECT j.*,
           (SELECT json_build_object('id', m.id, 'name', m.name, 'phone', m.phone, 'email', m.email, 'notes', m.notes,
                   'version', m.version)
              FROM customers c JOIN customers m ON m.company_id = c.company_id AND m.id = coalesce(c.merged_into_id, c.id)
              WHERE c.company_id = j.company_id AND c.id = j.customer_id) AS customer,
           (SELECT json_build_object('id', p.id, 'street', p.street, 'city', p.city, 'state', p.state,
                   'postalCode', p.postal_code, 'latitude', p.latitude::float8, 'longitude', p.longitude::float8,
                   'yearBuilt', p.year_built, 'accessNotes', p.access_notes, 'saltExposure', p.salt_exposure,
                   'version', p.version)
              FROM properties p WHERE p.company_id = j.company_id AND p.id = j.property_id) AS property,
           (SELECT json_build_object('source', l.source, 'words', l.words, 'receivedAt', l.received_at)
              FROM leads l WHERE l.company_id = j.company_id AND l.job_id = j.id ORDER BY l.id LIMIT 1) AS lead,
           (SELECT json_build_object('id', s.id, 'name', s.name) FROM members s
              WHERE s.company_id = j.company_id AND s.id = j.salesperson_id) AS salesperson,
           (SELECT json_build_object('id', s.id, 'name', s.name) FROM members s
              WHERE s.company_id = j.company_id AND s.id = j.estimator_id) AS estimator
    FROM job_rows j
    WHERE j.company_id = ${db.companyId} AND j.id = ${jobId}`;
  if (!row) throw notFound("job");
  return row;
}

export const listZones = (db: TenantDb, jobId: string): Promise<jobs.Zone[]> => db.sql<jobs.Zone>`
  SELECT id, name, kind, trim_scale(length_ft)::text AS "lengthFt", trim_scale(width_ft)::text AS "widthFt",
         trim_scale(height_ft)::text AS "heightFt", geometry, evidence, notes, version
  FROM zones WHERE company_id = ${db.companyId} AND job_id = ${jobId} ORDER BY id`;

export const listVisits = (db: TenantDb, jobId: string): Promise<jobs.Visit[]> => db.sql<jobs.Visit>`
  SELECT v.id, v.kind, v.starts_at AS "startsAt", v.minutes, v.member_id AS "memberId", m.name AS "memberName", v.state,
         v.notes, v.version
  FROM visits v JOIN members m ON m.company_id = v.company_id AND m.id = v.member_id
  WHERE v.company_id = ${db.companyId} AND v.job_id = ${jobId} ORDER BY v.starts_at, v.id`;

export const listObservations = (db: TenantDb, jobId: string): Promise<jobs.Job["observations"]> => db.sql`
  SELECT o.id, o.zone_id AS "zoneId", o.component, o.text, o.evidence, m.name AS by, o.created_at AS at
  FROM observations o JOIN members m ON m.company_id = o.company_id AND m.id = o.member_id
  WHERE o.company_id = ${db.companyId} AND o.job_id = ${jobId} ORDER BY o.id DESC LIMIT 200`;

async function listRevisions(db: TenantDb, jobId: string): Promise<jobs.Job["revisions"]> {
  const rows = await db.sql<
    Omit<jobs.Job["revisions"][number], "price" | "state"> & { cents: number; issued: boolean }
  >`
    SELECT r.id, r.number, r.kind, r.issued_at IS NOT NULL AS issued, r.price_cents AS cents, trim_scale(r.hours)::text AS hours,
           m.name AS author, r.created_at AS "createdAt", r.issued_at AS "issuedAt"
    FROM revisions r JOIN members m ON m.company_id = r.company_id AND m.id = r.author_id
    WHERE r.company_id = ${db.companyId} AND r.job_id = ${jobId} ORDER BY r.number`;
  return rows.map(({ cents, issued, ...rest }) => ({
    ...rest,
    state: issued ? "issued" : "draft",
    price: usd(cents),
  }));
}

/** The material change that waits to be settled, or else the newest comparison. */
async function readVariance(
  db: TenantDb,
  jobId: string,
): Promise<Omit<NonNullable<jobs.Job["variance"]>, "open"> | null> {
  const [row] = await db.sql<{
    id: string;
    from_id: string;
    to_id: string;
    material: boolean;
    delta_cents: number;
    rules: { fired: boolean; words: string }[];
    why: string | null;
  }>`
    SELECT v.id, v.from_revision_id AS from_id, v.to_revision_id AS to_id, v.material, v.delta_cents, v.rules, w.why
    FROM variances v
    JOIN jobs j ON j.company_id = v.company_id AND j.id = v.job_id
    LEFT JOIN variance_waivers w ON w.company_id = v.company_id AND w.variance_id = v.id
    WHERE v.company_id = ${db.companyId} AND v.job_id = ${jobId}
    ORDER BY ((j.facts->>'materialVarianceOpen')::boolean AND v.material AND w.id IS NULL) DESC, v.id DESC LIMIT 1`;
  return row
    ? {
        id: row.id,
        fromRevisionId: row.from_id,
        toRevisionId: row.to_id,
        material: row.material,
        waivedWhy: row.why,
        delta: usd(row.delta_cents),
        words: row.rules.filter((r) => r.fired).map((r) => r.words),
      }
    : null;
}

async function listQuotes(db: TenantDb, jobId: string, today: string): Promise<jobs.Job["quotes"]> {
  const rows = await db.sql<{
    id: string;
    number: string;
    revisionId: string;
    cents: number;
    issuedAt: string;
    expiresOn: string;
    ending: string | null;
    signer: string | null;
    signedOn: string | null;
    void: boolean;
  }>`
    SELECT q.id, q.number, q.revision_id AS "revisionId", q.price_cents AS cents, q.created_at AS "issuedAt",
           q.expires_on AS "expiresOn", e.kind AS ending, a.signer, a.signed_on AS "signedOn", v.id IS NOT NULL AS void
    FROM quotes q
    LEFT JOIN quote_endings e ON e.company_id = q.company_id AND e.quote_id = q.id
    LEFT JOIN acceptances a ON a.company_id = q.company_id AND a.quote_id = q.id
    LEFT JOIN acceptance_voids v ON v.company_id = a.company_id AND v.acceptance_id = a.id
    WHERE q.company_id = ${db.companyId} AND q.job_id = ${jobId} ORDER BY q.id DESC`;
  return rows.map(({ cents, ending, void: voided, ...rest }) => ({
    ...rest,
    price: usd(cents),
    state: quoteState({ ending, signed: rest.signer !== null, voided, expiresOn: rest.expiresOn }, today),
  }));
}

/** What became of a quote. A signature outweighs an ending, and a void signature a signature. */
export function quoteState(
  quote: { ending: string | null; signed: boolean; voided: boolean; expiresOn: string },
  today: string,
): jobs.Job["quotes"][number]["state"] {
  if (quote.voided) return "void";
  if (quote.signed) return "accepted";
  if (quote.ending === "declined") return "declined";
  if (quote.ending) return "superseded";
  return quote.expiresOn < today ? "expired" : "open";
}

async function readBooking(db: TenantDb, jobId: string): Promise<jobs.Job["booking"]> {
  const [row] = await db.sql<
    Omit<NonNullable<jobs.Job["booking"]>, "state"> & { startedOn: string | null; finishedOn: string | null }
  >`
    SELECT b.id, b.crew_id AS "crewId", c.name AS "crewName", b.start_on AS "startOn", b.end_on AS "endOn",
           b.crew_days AS "crewDays", b.started_on AS "startedOn", b.finished_on AS "finishedOn",
           trim_scale(b.actual_hours)::text AS "actualHours", b.version
    FROM bookings b JOIN crews c ON c.company_id = b.company_id AND c.id = b.crew_id
    WHERE b.company_id = ${db.companyId} AND b.job_id = ${jobId} AND b.cancelled_at IS NULL`;
  if (!row) return null;
  const { startedOn, finishedOn, ...rest } = row;
  return { ...rest, state: finishedOn ? "finished" : startedOn ? "under_way" : "booked" };
}

const listPlacedHolds = (db: TenantDb, jobId: string): Promise<jobs.Job["placedHolds"]> => db.sql`
  SELECT h.id, h.hold, h.why, m.name AS by, h.created_at AS at FROM holds h
  JOIN members m ON m.company_id = h.company_id AND m.id = h.placed_by_id
  WHERE h.company_id = ${db.companyId} AND h.job_id = ${jobId} AND h.lifted_at IS NULL ORDER BY h.id`;

const listComponents = (db: TenantDb, jobId: string): Promise<{ component: Component }[]> => db.sql`
  SELECT DISTINCT l.component FROM scope_lines l JOIN revisions r ON r.company_id = l.company_id AND r.id = l.revision_id
  WHERE l.company_id = ${db.companyId} AND r.job_id = ${jobId}`;

/** Everything the job page shows. Reads that need nothing of each other are sent together. */
export async function readJob(db: TenantDb, jobId: string, today: string): Promise<jobs.Job> {
  const [record, zones, visits, observations, revisions, variance, quotes, booking, placedHolds, components] =
    await Promise.all([
      readRecord(db, jobId),
      listZones(db, jobId),
      listVisits(db, jobId),
      listObservations(db, jobId),
      listRevisions(db, jobId),
      readVariance(db, jobId),
      listQuotes(db, jobId, today),
      readBooking(db, jobId),
      listPlacedHolds(db, jobId),
      listComponents(db, jobId),
    ]);
  const { property } = record;
  const state = deriveJob(record.facts, today);
  const { deposit } = record.facts;
  return {
    ...toJobRow(record, state, today),
    customer: record.customer,
    property,
    lead: record.lead && { ...record.lead, receivedAt: new Date(record.lead.receivedAt).toISOString() },
    salesperson: record.salesperson,
    estimator: record.estimator,
    closed:
      record.closed_on && record.closed_reason
        ? { reason: record.closed_reason, note: record.closed_note, on: record.closed_on }
        : null,
    zones,
    visits,
    observations,
    revisions,
    variance: variance && { ...variance, open: variance.material && record.facts.materialVarianceOpen },
    quotes,
    deposit: deposit && { due: usd(deposit.dueCents), paid: usd(deposit.paidCents) },
    booking,
    placedHolds,
    cautions: workCautions({
      yearBuilt: property.yearBuilt,
      components: components.map((c) => c.component),
      salt: property.saltExposure,
    }),
    acts: Object.fromEntries(
      Object.entries(state.acts).map(([act, verdict]) => [
        act,
        { allowed: verdict.allowed, why: verdict.allowed ? null : verdict.why },
      ]),
    ),
  };
}
