import type { company as contract } from "@ledgerboard/contracts";
import { toDate } from "../../days.ts";
import type { Context } from "../../http/implement.ts";
import { invalid, Problem } from "../../problem.ts";
import { rowKey } from "../keys.ts";
import { checkVersion, given } from "../versions.ts";
import { listPolicies, readCompany } from "./queries.ts";
import { checkTimezone } from "./timezone.ts";

/** Changes the profile. What was issued before keeps what it said. */
export async function updateCompany(c: Context<typeof contract.updateCompany>): Promise<contract.Company> {
  const { db, body } = c;
  if (body.timezone !== undefined) await checkTimezone(db, body.timezone);
  await db.sql`SELECT id FROM companies WHERE company_id = ${db.companyId} FOR NO KEY UPDATE`;
  const before = await readCompany(db);
  await checkVersion(before.version, c.version, () => before);
  const changes = given(body);
  await db.prisma.company.update({
    where: rowKey(db, db.companyId),
    data: changes,
  });
  await db.audit({
    action: "company.changed",
    entity: "company",
    entityId: db.companyId,
    words: "The company's profile was changed.",
    changes: {
      before: Object.fromEntries(
        Object.keys(changes).map((key) => [key, before[key as keyof typeof changes]]),
      ),
      after: changes,
    },
  });
  return readCompany(db);
}

/** Sets the materiality policy from a day on, today or later; earlier ones stay on record. */
export async function addPolicy(c: Context<typeof contract.addPolicy>): Promise<contract.Policy> {
  const { db, body, today } = c;
  if (body.effectiveFrom < today) {
    throw invalid("body.effectiveFrom", `Not before today, ${today}: what was judged before stays judged.`);
  }
  // One at a time, so that two on one day cannot both pass the check below.
  await db.sql`SELECT id FROM companies WHERE company_id = ${db.companyId} FOR NO KEY UPDATE`;
  if ((await listPolicies(db)).some((p) => p.effectiveFrom === body.effectiveFrom)) {
    throw new Problem("conflict", "A policy starts on that day already. Choose a later day.");
  }
  const { id } = await db.prisma.materialityPolicy.create({
    data: {
      companyId: db.companyId,
      effectiveFrom: toDate(body.effectiveFrom),
      amountCents: body.amount.cents,
      percentBp: body.percentBp,
      hours: body.hours,
      structuralAction: body.structuralAction,
    },
  });
  await db.audit({
    action: "policy.added",
    entity: "policy",
    entityId: id,
    words: `A new materiality policy applies from ${body.effectiveFrom}.`,
    changes: { ...body },
  });
  const added = (await listPolicies(db)).find((policy) => policy.id === id);
  if (!added) throw new Error("The policy just written cannot be read.");
  return added;
}
