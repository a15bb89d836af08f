import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import type { TenantDb } from "@ledgerboard/database";
import { type LinePrice, type Purchase, priceRevision } from "@ledgerboard/estimating";
import { notFound } from "../../problem.ts";
import { usd } from "../money.ts";
import { listLines, type PricedRevision, type RevisionRow, readPriced, unreviewed } from "./queries.ts";
import { newerPrices } from "./refresh.ts";

/** A price as the API writes it. */
export const toPrice = (p: LinePrice): Revision["totals"] => ({
  material: usd(p.materialCents),
  tax: usd(p.taxCents),
  hours: p.hours,
  labor: usd(p.laborCents),
  disposal: usd(p.disposalCents),
  equipment: usd(p.equipmentCents),
  overhead: usd(p.overheadCents),
  cost: usd(p.costCents),
  price: usd(p.priceCents),
});

type PricedLine = PricedRevision["lines"][number];

export function toScopeLine({ price, agreed, revisionId: _, ...line }: PricedLine): ScopeLine {
  return {
    ...line,
    price: toPrice(price),
    agreed: agreed && {
      unitPrice: usd(agreed.unitPriceCents),
      capQuantity: agreed.capQuantity,
      cap: usd(agreed.capCents),
    },
  };
}

export const toPurchase = (p: Purchase): Revision["purchases"][number] => ({
  code: p.code,
  name: p.name,
  unit: p.unit,
  section: p.section,
  wholePacks: p.wholePacks,
  needed: p.needed,
  used: usd(p.usedCents),
  packs: p.packs.map(({ size, cents, count }) => ({ size, price: usd(cents), count })),
  cost: usd(p.packsCents),
  leftover: usd(p.leftoverCents),
});

export async function readRevision(db: TenantDb, today: string, revisionId: string): Promise<Revision> {
  const priced = await readPriced(db, revisionId);
  const { revision, charges, adjustments } = priced;
  const left = unreviewed(priced);
  return {
    id: revision.id,
    jobId: revision.jobId,
    number: revision.number,
    kind: revision.kind,
    basedOnId: revision.basedOnId,
    priceBookId: revision.priceBookId,
    priceBookName: revision.priceBookName,
    priceBookFrom: revision.priceBookFrom,
    newerPrices: await newerPrices(db, today, priced),
    note: revision.note,
    author: revision.author,
    createdAt: revision.createdAt,
    issuedAt: revision.issuedAt,
    version: revision.version,
    state: revision.issuedAt ? "issued" : "draft",
    terms: {
      overheadBp: revision.overheadBp,
      marginBp: revision.marginBp,
      materialTaxBp: revision.materialTaxBp,
      minimumChargeCents: revision.minimumChargeCents,
      roundUpToCents: revision.roundUpToCents,
      laborCorrelationBp: revision.laborCorrelationBp,
    },
    lines: priced.lines.map(toScopeLine),
    charges: charges.map(({ costCents, price, ...rest }) => ({
      ...rest,
      cost: usd(costCents),
      price: toPrice(price),
    })),
    adjustments: adjustments.map((a) => ({
      kind: a.kind,
      price: toPrice(a.price),
      before: usd(a.kind === "whole_packs" ? 0 : a.beforeCents),
    })),
    alternates: priced.alternates.map(({ name, price }) => ({ name, price: toPrice(price) })),
    purchases: priced.purchases.map(toPurchase),
    totals: toPrice(priced.totals),
    unreviewed: { lines: left.lines, price: usd(left.cents) },
  };
}

export async function readLine(db: TenantDb, revision: RevisionRow, lineageId: string): Promise<ScopeLine> {
  const lines = await listLines(db, revision.id, lineageId);
  const [line] = priceRevision({ lines }, revision).lines;
  if (!line) throw notFound("scope line");
  return toScopeLine(line);
}
