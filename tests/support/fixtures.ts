import type { Response } from "supertest";
import type { Client, Harness, TestCompany } from "./harness.ts";
import { smallBook } from "./small-book.ts";

/** A Monday on which everything the fixtures do is in order; a book in effect begins long before. */
export const MONDAY = "2026-03-02T15:00:00Z";
export const TODAY = "2026-03-02";
export const usd = (cents: number) => ({ cents, currency: "USD" });

/** The body of an answer that had to succeed; otherwise says what was answered instead. */
export function taken<T = Record<string, never>>(answer: Response): T & { id: string; version: number } {
  if (answer.status >= 300) {
    throw new Error(`${answer.request.method} ${answer.request.url}: ${answer.status} ${answer.text}`);
  }
  return answer.body;
}

let inquiries = 0;
/** An inquiry by phone with a new customer at a new property, unless told otherwise. */
export function inquiry(given: Record<string, unknown> = {}): Record<string, unknown> {
  inquiries += 1;
  return {
    words: "The stair is loose at the top.",
    title: `Stair ${inquiries}`,
    customer: { name: `Customer ${inquiries}`, phone: `410555${String(1000 + inquiries)}` },
    property: { street: `${inquiries} Alder Lane`, city: "Catonsville", state: "MD", postalCode: "21228" },
    ...given,
  };
}

interface Lead {
  jobId: string;
  number: string;
  duplicates: { id: string }[];
}
export const lead = async (client: Client, given: Record<string, unknown> = {}): Promise<Lead> =>
  taken<Lead>(await client.post("/leads", inquiry(given)));

/** Ids of a company in which everything exists once, by the names the addresses of the API use. */
export interface World {
  company: TestCompany;
  /** jobId, zoneId, …: what stands for `:jobId` in an address. */
  params: Record<string, string>;
  /** What bodies need beside those. */
  spare: { customerId: string; zoneId: string; jobId: string; issuedRevisionId: string };
  /** Hash of the document of the quote in `params`. */
  documentSha256: string;
  /** A remark on the draft in `params`. */
  findingKey: string;
}

const LINES = {
  deck: { component: "decking", action: "replace", assemblyCode: "DECK-REPLACE", unit: "sqft" },
  tread: { component: "tread", action: "replace", assemblyCode: "TREAD-REPLACE", unit: "each" },
  joist: { component: "joist", action: "sister", assemblyCode: "JOIST-SISTER", unit: "each" },
};

/** A deck of 12 ft along the house by 10 ft, 4 ft up, with a stair and a guard along its outer edge. */
export const DECK_SHAPE = {
  outline: { shape: "rectangle", lengthIn: 144, widthIn: 120 },
  cutouts: [],
  heightIn: 48,
  framing: {
    joistDirection: "out",
    joistSpacingIn: 16,
    joistSize: "2x8",
    lumber: "southern_pine",
    ledger: true,
    beams: 1,
    posts: 3,
    overhangIn: 12,
  },
  decking: {
    pattern: "straight",
    thickness: "five_quarter",
    boardWidthIn: 5.5,
    gapIn: 0.125,
    borderRows: 0,
  },
  stairs: [
    {
      totalRiseIn: 48,
      risers: null,
      treadDepthIn: 10.25,
      widthIn: 48,
      stringers: 4,
      boardsPerTread: 2,
      closedRisers: false,
    },
  ],
  guards: [
    {
      lengthIn: 144,
      heightIn: 36,
      onStair: false,
      postSpacingIn: 72,
      infill: "balusters",
      balusterWidthIn: 1.5,
      clearGapIn: 3.75,
      rails: 2,
      cap: true,
      gates: 0,
      gateWidthIn: 0,
    },
  ],
};

const ADVISORY = { words: "Balusters 6 in apart.", reference: "IRC 2018 R312.1.3" };

/**
 * A company in which a job has been through everything over HTTP: visit, zones, note, first pass, quote, signature,
 * site review with a material change, second quote, signature, deposit, payment, hold, crew, booking, promise; beside
 * it a job with a draft, a second customer, an invitation and a closed day. Sets the clock to MONDAY.
 */
export async function world(h: Harness, name: string): Promise<World> {
  h.setNow(MONDAY);
  const company = await h.company({ name });
  const { owner, sales, estimator, scheduler } = company;
  await h.database.withCompany(company.companyId, {}, (db) => smallBook(db, "2026-01-05"));
  type Listed = Record<"materials" | "assemblies" | "laborRates", { id: string }[]>;
  const book = taken<Listed>(await owner.get("/price-book"));

  const { jobId } = await lead(sales, { customer: { name: `${name} first`, phone: "410-555-0110" } });
  const job = taken<{ customer: { id: string }; property: { id: string } }>(
    await owner.get(`/jobs/${jobId}`),
  );
  const visit = taken(
    await sales.post(`/jobs/${jobId}/visits`, {
      kind: "first_look",
      startsAt: "2026-03-03T14:00:00Z",
      memberId: sales.memberId,
    }),
  );
  const zone = async (of: string, title: string, more: object = {}) =>
    taken(await sales.post(`/jobs/${of}/zones`, { name: title, kind: "deck", ...more })).id;
  const zoneId = await zone(jobId, "Lower deck");
  const spareZone = await zone(jobId, "Side porch");
  const advisory = taken(await sales.post(`/jobs/${jobId}/advisories`, ADVISORY));
  taken(await sales.post(`/jobs/${jobId}/observations`, { zoneId, text: "Soft at the wall." }));

  const line = async (revision: string, at: string, what: object, quantity: string, more: object = {}) =>
    taken(await estimator.post(`/revisions/${revision}/lines`, { zoneId: at, quantity, ...what, ...more }));
  const sign = async (): Promise<{ id: string; documentSha256: string }> => {
    const { id } = taken(await sales.post(`/jobs/${jobId}/quotes`, {}));
    const { documentSha256 } = taken<{ documentSha256: string }>(await sales.get(`/quotes/${id}`));
    const body = { signer: "Pat Doe", signedOn: TODAY, signedAt: "office", documentSha256 };
    taken(await sales.post(`/quotes/${id}/acceptance`, body));
    return { id, documentSha256 };
  };

  const first = taken(await sales.post(`/jobs/${jobId}/revisions`, { kind: "first_pass" })).id;
  await line(first, zoneId, LINES.deck, "214");
  await line(first, zoneId, LINES.tread, "5");
  taken(await sales.post(`/revisions/${first}/issue`));
  await sign();

  const review = taken(await estimator.post(`/jobs/${jobId}/revisions`, { kind: "site_review" })).id;
  const copied = taken<{ lines: { id: string; version: number }[] }>(
    await estimator.get(`/revisions/${review}`),
  );
  for (const { id, version } of copied.lines) {
    taken(await estimator.patch(`/lines/${id}`, { reviewed: true }, version));
  }
  await line(review, zoneId, LINES.joist, "12", { reasonCode: "missed", reason: "Cracked joists below." });
  const issued = taken<{ material: boolean; varianceId: string }>(
    await estimator.post(`/revisions/${review}/issue`),
  );
  if (!issued.material) throw new Error("The site review of the fixture was to be material.");
  const quote = await sign();

  taken(await sales.post(`/jobs/${jobId}/deposit-requests`, { amount: usd(10_000), dueOn: "2026-03-09" }));
  const payment = taken(
    await sales.post(`/jobs/${jobId}/payments`, { method: "cheque", amount: usd(10_000), receivedOn: TODAY }),
  );
  const crew = taken(await scheduler.post("/crews", { name: `Crew of ${name}`, size: 3 }));
  const booking = taken(
    await scheduler.post(`/jobs/${jobId}/bookings`, { crewId: crew.id, startOn: "2026-03-16", crewDays: 3 }),
  );
  const hold = taken(
    await scheduler.post(`/jobs/${jobId}/holds`, { hold: "permit", why: "Permit asked for." }),
  );
  taken(await sales.post(`/jobs/${jobId}/promises`, { from: "2026-03-16", to: "2026-03-20" }));
  const closure = taken(await scheduler.post("/calendar-closures", { on: "2026-12-24", why: "Holiday eve" }));
  const invitation = taken(
    await owner.post("/invitations", {
      name: "New Hand",
      email: `hand@${company.slug}.example`,
      roles: ["sales"],
    }),
  );

  const second = await lead(sales, { customer: { name: `${name} second`, phone: "410-555-0110" } });
  const other = taken<{ customer: { id: string } }>(await owner.get(`/jobs/${second.jobId}`));
  const draftZone = await zone(second.jobId, "Upper deck", { geometry: DECK_SHAPE, evidence: "measured" });
  const draft = taken(await sales.post(`/jobs/${second.jobId}/revisions`, { kind: "first_pass" })).id;
  const draftLine = await line(draft, draftZone, LINES.deck, "80");
  const { findings } = taken<{ findings: { key: string }[] }>(
    await sales.get(`/revisions/${draft}/assessment`),
  );

  return {
    company,
    params: {
      jobId,
      customerId: job.customer.id,
      propertyId: job.property.id,
      memberId: company.lead_hand.memberId,
      invitationId: invitation.id,
      visitId: visit.id,
      zoneId: spareZone,
      holdId: hold.id,
      revisionId: draft,
      lineId: draftLine.id,
      varianceId: issued.varianceId,
      quoteId: quote.id,
      paymentId: payment.id,
      crewId: crew.id,
      closureId: closure.id,
      bookingId: booking.id,
      bookId: book.id,
      materialId: book.materials[0]?.id ?? "",
      assemblyId: book.assemblies[0]?.id ?? "",
      advisoryId: advisory.id,
      rateId: book.laborRates[0]?.id ?? "",
      slug: company.slug,
    },
    spare: {
      customerId: other.customer.id,
      zoneId: draftZone,
      jobId: second.jobId,
      issuedRevisionId: review,
    },
    documentSha256: quote.documentSha256,
    findingKey: findings[0]?.key ?? "",
  };
}

/** Names of the tables that belong to companies. */
export async function companyTables(h: Harness): Promise<string[]> {
  const { rows } = await h.admin.query(
    `SELECT c.relname AS name FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'company_id'
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND c.relname <> 'tenant_routes' ORDER BY 1`,
  );
  return rows.map((r) => r.name as string);
}

/** A hash over every row of every table of one company, per table: equal means nothing was changed. */
export async function checksums(h: Harness, companyId: string): Promise<Record<string, string>> {
  const parts = (await companyTables(h)).map(
    (t) => `SELECT '${t}' AS name, md5(coalesce(string_agg(t::text, '|' ORDER BY t.id), '')) AS sum
            FROM ${t} t WHERE company_id = '${companyId}'`,
  );
  const { rows } = await h.admin.query(parts.join(" UNION ALL "));
  return Object.fromEntries(rows.map((r) => [r.name, r.sum]));
}

/** Every id a company's rows have. */
export async function idsOf(h: Harness, companyId: string): Promise<Set<string>> {
  const parts = (await companyTables(h)).map((t) => `SELECT id FROM ${t} WHERE company_id = '${companyId}'`);
  const { rows } = await h.admin.query(parts.join(" UNION ALL "));
  return new Set(rows.map((r) => r.id as string));
}
