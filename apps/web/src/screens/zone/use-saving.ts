import type { Zone } from "@ledgerboard/contracts/jobs";
import { useEffect, useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { ApiProblem } from "../../api/problem.ts";
import { q } from "../../api/queries.ts";
import { queryClient } from "../../api/query-client.ts";
import { useSession } from "../../app/session.ts";
import { plural } from "../../ui/format.ts";
import { toast } from "../../ui/toast.tsx";
import { keepDraft, measuresOf, type ZoneDraft } from "./draft.ts";
import { type FieldWords, fromTyped } from "./typed.ts";

/** Sends the drawing; what the service refuses is kept by field, and what was typed stays. */
export function useSave(jobId: string, zone: Zone, draft: ZoneDraft) {
  const { member } = useSession();
  const update = useAct(api.updateZone);
  const [error, setError] = useState<unknown>(null);
  const refusals = new Map<string, string>();
  for (const { path, message } of error instanceof ApiProblem ? error.errors : [])
    refusals.set(toPath(path), message);
  const save = async (remarks: number) => {
    const { geometry } = fromTyped(draft.typed);
    try {
      const stored = await update.send({
        params: { zoneId: zone.id },
        version: draft.version,
        body: { geometry, evidence: draft.evidence },
      });
      queryClient.setQueryData(q.job(jobId).queryKey, (job) =>
        job ? { ...job, zones: job.zones.map((one) => (one.id === stored.id ? stored : one)) } : job,
      );
      keepDraft(zone.id, member.id, null);
      setError(null);
      toast(remarks > 0 ? `Saved, with ${plural(remarks, "remark")} still open.` : "Saved.");
    } catch (thrown) {
      setError(thrown);
    }
  };
  const clear = () => setError(null);
  return { save, saving: update.busy, error, refusals, clear };
}

/** "body.geometry.stairs.0.widthIn" as the takeoff writes it: "geometry.stairs[0].widthIn". */
const toPath = (path: string): FieldWords["field"] =>
  path.replace(/^body\./, "").replace(/\.(\d+)(?=\.|$)/g, "[$1]");

/** Follows what others save: a draft that says nothing new gives way, one that is not touched by it goes along. */
export function useFollow(
  zone: Zone,
  kept: ZoneDraft | null,
  changed: boolean,
  keep: (draft: ZoneDraft | null) => void,
): void {
  // biome-ignore lint/correctness/useExhaustiveDependencies: `keep` is made anew at every drawing
  useEffect(() => {
    if (!kept || kept.version === zone.version) return;
    if (!changed) keep(null);
    else if (measuresOf(zone) === kept.base) keep({ ...kept, version: zone.version });
  }, [zone, kept, changed]);
}

/** Asks before the page is closed or loaded anew with a drawing that is not saved. */
export function useLeaveWarning(changed: boolean): void {
  useEffect(() => {
    if (!changed) return;
    const ask = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener("beforeunload", ask);
    return () => window.removeEventListener("beforeunload", ask);
  }, [changed]);
}
