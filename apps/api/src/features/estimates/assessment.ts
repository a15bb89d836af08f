import type { assessment as contract, Output } from "@ledgerboard/contracts";
import type { Zone } from "@ledgerboard/contracts/jobs";
import type { Unit } from "@ledgerboard/contracts/vocabulary";
import type { TenantDb } from "@ledgerboard/database";
import {
  assessPlausibility,
  chanceOfLoss,
  type Finding,
  marginForPrice,
  priceAtChanceOfLoss,
  scopeAgainstExisting,
  simulateCost,
  type Takeoff,
  takeoff,
} from "@ledgerboard/estimating";
import { listZones } from "../jobs/detail.ts";
import { usd } from "../money.ts";
import { listPasses } from "./passes.ts";
import { readPast } from "./past.ts";
import { type PricedRevision, readPriced } from "./queries.ts";

type Assessment = Output<typeof contract.assessRevision>;

const DRAWS = 10_000;
/** Whoever looks twice should see the same figures, so the seed is fixed unless asked for. */
const SEED = 1;
/** Chances of a loss that prices are shown for, in basis points. Own choice. */
const CHANCES_BP = [500, 1000, 2000, 3000, 5000];

export type MeasuredZone = Zone & { takeoff: Takeoff };

/** The job's zones with what their measures count to. */
export async function zonesOf(db: TenantDb, jobId: string): Promise<MeasuredZone[]> {
  const zones = await listZones(db, jobId);
  return zones.map((zone) => ({ ...zone, takeoff: takeoff(zone) }));
}

async function unitsOfAssemblies(db: TenantDb, bookId: string): Promise<Map<string, Unit>> {
  const rows = await db.sql<{ code: string; unit: Unit }>`
    SELECT code, unit FROM assemblies WHERE company_id = ${db.companyId} AND price_book_id = ${bookId}`;
  return new Map(rows.map((row) => [row.code, row.unit]));
}

interface Judged {
  zones: MeasuredZone[];
  findings: Finding[];
  finishedJobs: number;
}

/** What a senior estimator would remark about a revision. */
export async function judgeRevision(db: TenantDb, today: string, priced: PricedRevision): Promise<Judged> {
  const { revision, lines, charges } = priced;
  const zones = await zonesOf(db, revision.jobId);
  const units = await unitsOfAssemblies(db, revision.priceBookId);
  const { past, finishedJobs } = await readPast(db, today);
  const findings = assessPlausibility({
    property: { saltExposure: revision.salt, yearBuilt: revision.yearBuilt },
    zones,
    lines: lines.map((line) => ({ ...line, assemblyUnit: units.get(line.assemblyCode ?? "") ?? null })),
    charges,
    past,
    today,
    newLumberDaysDry: null,
  });
  return { zones, findings, finishedJobs };
}

function riskOf(priced: PricedRevision, seed: number): Assessment["risk"] {
  const { laborCorrelationBp } = priced.revision;
  const cost = simulateCost(priced, { draws: DRAWS, seed, laborCorrelationBp });
  const { priceCents, costCents } = priced.totals;
  return {
    draws: cost.draws,
    seed,
    mean: usd(cost.meanCents),
    standardDeviation: usd(cost.standardDeviationCents),
    p10: usd(cost.p10Cents),
    p50: usd(cost.p50Cents),
    p90: usd(cost.p90Cents),
    price: usd(priceCents),
    chanceOfLossBp: Math.round(chanceOfLoss(cost, priceCents)),
    prices: CHANCES_BP.map((chanceBp) => {
      const cents = priceAtChanceOfLoss(cost, chanceBp);
      return { chanceBp, price: usd(cents), marginBp: marginForPrice(costCents, cents) };
    }),
    paidForFound: usd(cost.paidForFoundWorkCents),
    hours: cost.hours,
    histogram: cost.histogram.map(({ fromCents, toCents, count }) => ({
      from: usd(fromCents),
      to: usd(toCents),
      count,
    })),
  };
}

export async function assessRevision(
  db: TenantDb,
  today: string,
  revisionId: string,
  seed: number | undefined,
): Promise<Assessment> {
  const priced = await readPriced(db, revisionId);
  const { zones, findings, finishedJobs } = await judgeRevision(db, today, priced);
  const passes = await listPasses(db, priced.revision.jobId);
  return {
    findings: findings.map((finding) => ({ ...finding, passed: passes.get(finding.key) ?? null })),
    past: { finishedJobs },
    coverage: zones.flatMap((zone) => {
      const lines = priced.lines.filter((line) => line.zoneId === zone.id && line.alternate === null);
      return scopeAgainstExisting(zone.takeoff, lines).map(({ lineIds: _, ...row }) => ({
        zoneId: zone.id,
        ...row,
      }));
    }),
    risk: riskOf(priced, seed ?? SEED),
  };
}

/** Findings that keep a draft from being issued: blocking ones that nobody let pass with a reason. */
export async function standingInTheWay(
  db: TenantDb,
  today: string,
  priced: PricedRevision,
): Promise<Finding[]> {
  const { findings } = await judgeRevision(db, today, priced);
  const blocking = findings.filter((finding) => finding.severity === "blocking");
  if (blocking.length === 0) return [];
  const passes = await listPasses(db, priced.revision.jobId);
  return blocking.filter((finding) => !passes.has(finding.key));
}
