import type { company as contract } from "@ledgerboard/contracts";
import type { TenantDb } from "@ledgerboard/database";
import { depositCap } from "@ledgerboard/rules";
import { usd } from "../money.ts";

/** A contract of a middling size; some states have a rule only above or below a price. */
const SAMPLE_CONTRACT_CENTS = 1_000_000;

/** The company's profile, and what its state's rule on deposits says of a $10,000 contract. */
export async function readCompany(db: TenantDb): Promise<contract.Company> {
  const row = await db.prisma.company.findFirstOrThrow({
    where: { companyId: db.companyId },
    omit: { companyId: true, createdAt: true, updatedAt: true },
  });
  const { status, rule, source, asOf, unsure } = depositCap({
    state: row.state,
    contractCents: SAMPLE_CONTRACT_CENTS,
  });
  return { ...row, currency: "USD", depositRule: { status, rule, source, asOf, unsure } };
}

interface PolicyRow {
  id: string;
  effectiveFrom: string;
  amountCents: number;
  percentBp: number;
  hours: string | null;
  structuralAction: boolean;
}

/** Materiality policies, newest first. */
export async function listPolicies(db: TenantDb): Promise<contract.Policy[]> {
  const rows = await db.sql<PolicyRow>`
    SELECT id, effective_from AS "effectiveFrom", amount_cents AS "amountCents", percent_bp AS "percentBp",
           trim_scale(hours)::text AS hours, structural_action AS "structuralAction"
    FROM materiality_policies WHERE company_id = ${db.companyId} ORDER BY effective_from DESC, id DESC`;
  return rows.map(({ amountCents, ...row }) => ({ ...row, amount: usd(amountCents) }));
}
