import type { Finding } from "@ledgerboard/contracts/assessment";
import type { Revision } from "@ledgerboard/contracts/estimates";
import { useQuery } from "@tanstack/react-query";
import { useMemo, useState } from "react";
import { q } from "../../api/queries.ts";
import { mergeRemarks, type Places, placer, remarksOf, type Typed } from "./plausible.ts";

export interface AllRemarks {
  findings: readonly Finding[];
  places: Places;
  /** Keys of the remarks on what is saved: reasons are given for those. */
  known: ReadonlySet<string>;
  /** Why the service's part is missing, if it is. */
  missing: "waiting" | "failed" | null;
}

/**
 * What is remarked on the estimate. The rules run in the page on what is typed; the service adds the reasons that were
 * given, and what the company's past says. Who may not read the price book sees what the service says of what is saved.
 */
export function useRemarks(typed: Typed, revision: Revision, changing: ReadonlySet<string>): AllRemarks {
  const assessment = useQuery(q.assessment(revision.id));
  const own = useMemo(() => (typed.book ? remarksOf(typed) : null), [typed]);
  const [place] = useState(placer);
  const stored = assessment.data?.findings;
  const failed = assessment.error !== null;
  return useMemo(() => {
    const findings = own ? mergeRemarks(own, stored ?? [], changing) : (stored ?? []);
    return {
      findings,
      places: place(findings),
      known: new Set(stored?.map(({ key }) => key)),
      missing: stored ? null : failed ? "failed" : "waiting",
    };
  }, [own, stored, failed, changing, place]);
}
