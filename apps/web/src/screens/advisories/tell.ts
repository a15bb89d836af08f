import type { Advisory } from "@ledgerboard/contracts/advisories";
import type { AdvisoryDecision } from "@ledgerboard/contracts/vocabulary";
import { dayInWords } from "../../ui/format.ts";

/** What the customer decided, in a sentence. */
export function decisionWords({
  decision,
  alternate,
  declined,
}: Pick<Advisory, "decision" | "alternate" | "declined">): string {
  if (decision === "alternate") return `Offered as the optional extra “${alternate ?? ""}”.`;
  if (decision === "in_scope") return "Taken into the work.";
  if (decision === "declined" && declined)
    return `Declined in writing by ${declined.name} on ${dayInWords(declined.on)} ${declined.on.slice(0, 4)}: ${declined.how}.`;
  return "Not decided yet.";
}

export const DECISIONS: { value: AdvisoryDecision; label: string; hint?: string }[] = [
  { value: "undecided", label: "Not decided yet" },
  { value: "alternate", label: "Offered as an optional extra", hint: "priced beside the work" },
  { value: "in_scope", label: "Taken into the work", hint: "its lines are in the estimate" },
  { value: "declined", label: "Declined in writing", hint: "the customer leaves it as it is" },
];

export interface DecisionValues {
  decision: AdvisoryDecision;
  alternate: string;
  name: string;
  on: string;
  how: string;
}

/** What is still missing of a decision, by field. */
export function decisionFaults(values: DecisionValues): Partial<Record<keyof DecisionValues, string>> {
  if (values.decision === "alternate" && values.alternate === "")
    return { alternate: "Choose which optional extra would mend it." };
  if (values.decision !== "declined") return {};
  return {
    ...(values.name.trim() === "" && { name: "Say who declined." }),
    ...(values.on === "" && { on: "Give the day it was put in writing." }),
    ...(values.how.trim().length < 3 && {
      how: "Say how it was put in writing: a signed note, a letter, a mail.",
    }),
  };
}

/** The body the service takes: only what belongs to the decision. */
export function decisionBody({ decision, alternate, name, on, how }: DecisionValues) {
  if (decision === "alternate") return { decision, alternate };
  if (decision === "declined") return { decision, name: name.trim(), on, how: how.trim() };
  return { decision };
}
