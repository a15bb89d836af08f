import type { Component, advisories as contract, Output } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { assessPlausibility } from "@ledgerboard/estimating";
import { zonesOf } from "../estimates/assessment.ts";
import { requireJob } from "../jobs/require.ts";
import { listAdvisories } from "./queries.ts";

/** Rules about what stands there, rather than about the estimate, and the component each is about. */
const ABOUT_WHAT_STANDS: Record<string, Component> = {
  guard_missing: "rail",
  guard_low: "rail",
  guard_opening: "baluster",
  guard_unfilled: "baluster",
  riser_high: "riser",
  open_risers: "riser",
  tread_shallow: "tread",
  stair_narrow: "stringer",
  stringers_far_apart: "stringer",
  handrail_missing: "rail",
  joist_span: "joist",
  joist_overhang: "joist",
  joists_far_apart_for_boards: "joist",
};

/** The job's advisories, and what its zones' measures show that nobody has recorded yet. */
export async function readAdvisories(
  db: TenantDb,
  today: string,
  jobId: string,
): Promise<Output<typeof contract.listAdvisories>> {
  await requireJob(db, jobId);
  const advisories = await listAdvisories(db, jobId);
  const findings = assessPlausibility({
    property: { saltExposure: false, yearBuilt: null },
    zones: await zonesOf(db, jobId),
    lines: [],
    charges: [],
    past: null,
    today,
    newLumberDaysDry: null,
  });
  const recorded = new Set(advisories.map((a) => `${a.zoneId} ${a.words}`));
  const suggested = findings.flatMap(({ ruleId, zoneId, condition, words: remark, source }) => {
    // What to do about it is the estimator's; the customer is told what stands there.
    const words = condition ?? remark;
    const component = ABOUT_WHAT_STANDS[ruleId];
    if (!component || !zoneId || recorded.has(`${zoneId} ${words}`)) return [];
    return [{ zoneId, component, words, reference: source }];
  });
  return { advisories, suggested };
}
