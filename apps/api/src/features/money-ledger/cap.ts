import type { quotes } from "@ledgerboard/contracts";
import { basisPoints, formatMoney, multiply, ratio, toCents } from "@ledgerboard/contracts/money";
import { type DepositCap, depositCap } from "@ledgerboard/rules";
import { usd } from "../money.ts";
import type { ContractRecord } from "./queries.ts";

/** What may lawfully be asked before work starts on a signed job. */
export function capOf(record: ContractRecord): DepositCap | null {
  const { state, contract } = record;
  return contract && depositCap({ state, contractCents: contract.priceCents });
}

export const showCap = (cap: DepositCap): quotes.JobMoney["cap"] => ({
  status: cap.status,
  cap: cap.capCents === null ? null : usd(cap.capCents),
  rule: cap.rule,
  source: cap.source,
  asOf: cap.asOf,
  unsure: cap.unsure,
  checkLocalLaw: cap.checkLocalLaw,
});

/**
 * The limit in whole cents, or null where none is known for this work. A rule of the state that may not be about
 * this work (`conditional`) sets no limit here; it is shown.
 */
export const limitOf = (cap: DepositCap): number | null => (cap.status === "cap" ? cap.capCents : null);

/** The company's usual share of the contract, half-up to the cent, and never above the limit. */
export function suggestDeposit(contractCents: number, shareBp: number, cap: DepositCap): number {
  const share = toCents(multiply(ratio(contractCents), basisPoints(shareBp)));
  return Math.min(share, limitOf(cap) ?? share);
}

/** "At most $3,203.33: … (source). Check local law." */
export function sayLimit(cap: DepositCap, limitCents: number): string {
  return `At most ${formatMoney(limitCents)}: ${cap.rule} (source: ${cap.source}). ${cap.checkLocalLaw}`;
}

/** What is known of the limit, for the record of a deposit that was asked for. */
export function sayCap(cap: DepositCap): string {
  const limit = limitOf(cap);
  const doubt = cap.unsure && cap.status !== "no_data" ? " This is not confirmed." : "";
  if (limit !== null) {
    return `The limit is ${formatMoney(limit)} (source: ${cap.source}).${doubt} ${cap.checkLocalLaw}`;
  }
  return `${cap.rule} Source: ${cap.source}.${doubt} ${cap.checkLocalLaw}`;
}
