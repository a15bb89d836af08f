import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import type { Job } from "@ledgerboard/contracts/jobs";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { createContext, use } from "react";
import type { Desk } from "./desk.ts";
import type { Priced } from "./prices.ts";

export interface Estimate {
  job: Job;
  revision: Revision;
  book: PriceBook | undefined;
  desk: Desk;
  /** It may be written to, by this member, now. */
  editable: boolean;
  /** Its margin may be changed, by this member, now. */
  mayPrice: boolean;
  /** A site review: lines are walked, and what departs needs a reason. */
  review: boolean;
  /** The line a line was copied from. */
  baseOf: (line: ScopeLine) => ScopeLine | null;
  /** What that one is called: "First pass". */
  baseName: string;
  /** Names of the optional extras there are, for the next line of one. */
  extras: readonly string[];
  /** The line that stands open, if any. */
  openId: string | null;
  setOpen: (id: string | null) => void;
  /** The line that is being written and not added yet, so that remarks can be made on it. */
  setComing: (coming: Priced | null) => void;
}

export const EstimateContext = createContext<Estimate | null>(null);

export function useEstimate(): Estimate {
  const context = use(EstimateContext);
  if (!context) throw new Error("This is part of the estimate's page.");
  return context;
}
