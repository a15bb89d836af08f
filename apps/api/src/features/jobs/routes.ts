import { jobs as contract } from "@ledgerboard/contracts";
import { fromCursor, paginate, toCursor } from "../../cursor.ts";
import { localDay } from "../../days.ts";
import { type Implementation, implement, implementPublic } from "../../http/implement.ts";
import { notFound } from "../../problem.ts";
import type { Services } from "../../services.ts";
import { readJob } from "./detail.ts";
import { createLead, createPublicInquiry, isTrap } from "./inquiries.ts";
import { countJobs, listJobs } from "./list.ts";
import { closeJob, liftHold, pinJob, placeHold, promiseWindow, reopenJob, updateJob } from "./service.ts";
import { addObservation, addVisit, addZone, removeZone, updateVisit, updateZone } from "./site.ts";
import { readTimeline } from "./timeline.ts";

async function companyBehind(services: Services, slug: string): Promise<string> {
  // What cannot be a form's address is not asked for: the database does not even take every character.
  if (!/^[a-z0-9-]+$/.test(slug)) throw notFound("form");
  const [companyId] = await services.database.findCompanies("slug", slug);
  if (!companyId) throw notFound("form");
  return companyId;
}

const companyFacts = (companyId: string, services: Services, requestId: string) =>
  services.database.withCompany(companyId, { requestId }, async (db) => {
    const [row] = await db.sql<{ name: string; phone: string | null; state: string; timezone: string }>`
      SELECT name, phone, state, timezone FROM companies WHERE company_id = ${companyId}`;
    if (!row) throw notFound("form");
    return row;
  });

export const jobRoutes: Implementation[] = [
  implement(contract.listJobs, ({ db, query, today, services }) =>
    listJobs(db, query, today, services.config.APP_SECRET),
  ),
  implement(contract.countJobs, ({ db, today }) => countJobs(db, today)),
  implement(contract.createLead, ({ db, body, who, today }) =>
    createLead(db, body, who.roles.includes("sales") ? who.memberId : null, today),
  ),
  implement(contract.getJob, ({ db, params, today }) => readJob(db, params.jobId, today)),
  implement(contract.updateJob, ({ db, params, version, body, today }) =>
    updateJob(db, params.jobId, version, body, today),
  ),
  implement(contract.pinJob, ({ db, params, body, today }) => pinJob(db, params.jobId, body.why, today)),
  implement(contract.promiseWindow, ({ db, params, body, today }) =>
    promiseWindow(db, params.jobId, body, today),
  ),
  implement(contract.getTimeline, async ({ db, params, query, services }) => {
    const secret = services.config.APP_SECRET;
    const list = `timeline/${params.jobId}`;
    const after = fromCursor<[string]>(secret, list, query.after);
    const rows = await readTimeline(db, params.jobId, after?.[0] ?? null, query.limit + 1);
    return paginate(rows, query.limit, (last) => toCursor(secret, list, [last.id]));
  }),
  implement(contract.closeJob, ({ db, params, body, today }) => closeJob(db, params.jobId, body, today)),
  implement(contract.reopenJob, ({ db, params, body, today }) =>
    reopenJob(db, params.jobId, body.why, today),
  ),
  implement(contract.addVisit, ({ db, params, body, today }) => addVisit(db, params.jobId, body, today)),
  implement(contract.updateVisit, ({ db, params, version, body, today }) =>
    updateVisit(db, params.visitId, version, body, today),
  ),
  implement(contract.addObservation, ({ db, params, body, today }) =>
    addObservation(db, params.jobId, body, today),
  ),
  implement(contract.addZone, ({ db, params, body, today }) => addZone(db, params.jobId, body, today)),
  implement(contract.updateZone, ({ db, params, version, body, today }) =>
    updateZone(db, params.zoneId, version, body, today),
  ),
  implement(contract.removeZone, ({ db, params, today }) => removeZone(db, params.zoneId, today)),
  implement(contract.placeHold, ({ db, params, body, today }) => placeHold(db, params.jobId, body, today)),
  implement(contract.liftHold, ({ db, params, today }) => liftHold(db, params.holdId, today)),
  implementPublic(contract.publicCompany, async ({ params, services, requestId }) => {
    const { name, phone, state } = await companyFacts(
      await companyBehind(services, params.slug),
      services,
      requestId,
    );
    return { name, phone, state };
  }),
  implementPublic(contract.publicInquiry, async ({ params, body, services, requestId }) => {
    const companyId = await companyBehind(services, params.slug);
    // A program that fell into the trap is told what a person is told, so that it learns nothing.
    if (!isTrap(body)) {
      const { state, timezone } = await companyFacts(companyId, services, requestId);
      await services.database.withCompany(companyId, { requestId }, (db) =>
        createPublicInquiry(db, body, state, localDay(services.now(), timezone)),
      );
    }
    return { done: true as const };
  }),
];
