import type { Money } from "@ledgerboard/contracts/common";

/** Whole cents as the API writes money. */
export const usd = (cents: number): Money => ({ cents, currency: "USD" });
