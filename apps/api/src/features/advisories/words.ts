import type { Advisory } from "@ledgerboard/contracts/advisories";
import { sayDate } from "@ledgerboard/contracts/dates";

/** What the customer decided, as papers and timeline say it. */
export function sayDecision(advisory: Pick<Advisory, "decision" | "alternate" | "declined">): string {
  const { decision, alternate, declined } = advisory;
  if (decision === "alternate") return `priced as the optional extra "${alternate}"`;
  if (decision === "in_scope") return "taken into the work";
  if (decision === "declined" && declined)
    return `declined in writing by ${declined.name} on ${sayDate(declined.on)} (${declined.how})`;
  return "not decided yet";
}
