import type { Finding } from "@ledgerboard/contracts/assessment";
import { createContext, use } from "react";

export interface Remarking {
  /** Remarks the service makes of what is saved; only to those a reason can be given. */
  known: ReadonlySet<string>;
  ask: (finding: Finding) => void;
  takeBack: (finding: Finding) => void;
  /** Reasons may be given, by this member, now. */
  editable: boolean;
}

export const RemarksContext = createContext<Remarking | null>(null);

export function useRemarking(): Remarking {
  const context = use(RemarksContext);
  if (!context) throw new Error("This is part of the estimate's page.");
  return context;
}

/** Brings a remark into sight and puts the focus on it. */
export function jumpTo({ key }: Pick<Finding, "key">): void {
  const remark = document.querySelector<HTMLElement>(`[data-remark="${CSS.escape(key)}"]`);
  remark?.scrollIntoView({ block: "center" });
  remark?.focus({ preventScroll: true });
}
