import type { Revision } from "@ledgerboard/contracts/estimates";
import { call } from "../../api/client.ts";
import { api } from "../../api/generated/endpoints.ts";
import { isProblem } from "../../api/problem.ts";
import { invalidate, q, TOUCHES } from "../../api/queries.ts";
import { queryClient } from "../../api/query-client.ts";
import type { Args } from "../../api/wire.ts";

type Change = NonNullable<Args<NonNullable<typeof api.updateRevision.contract>>["body"]>;

/** What a person decides about a draft as a whole. */
const decided = ({ charges, terms, note }: Revision): string =>
  JSON.stringify([
    charges.map(({ kind, words, cost, atCost }) => [kind, words, cost.cents, atCost]),
    terms,
    note,
  ]);

const TRIES = 3;

/**
 * Changes what a draft charges for the whole job, or its margin. Saving a line also gives the draft a new version; where
 * nothing else has changed since it was seen, it is simply sent again. Throws what the service refuses.
 */
export async function saveRevision(seen: Revision, body: Change): Promise<Revision> {
  let { version } = seen;
  for (let attempt = 1; ; attempt++) {
    try {
      const revision = await call(api.updateRevision, { params: { revisionId: seen.id }, version, body });
      const { queryKey } = q.revision(seen.id);
      await queryClient.cancelQueries({ queryKey });
      queryClient.setQueryData(queryKey, revision);
      void invalidate(TOUCHES.estimates ?? [], seen.jobId);
      return revision;
    } catch (error) {
      void invalidate(["revision"], seen.jobId);
      const current = isProblem(error, "version-stale") && (error.document.current as Revision | undefined);
      if (!current || attempt === TRIES || decided(current) !== decided(seen)) throw error;
      version = current.version;
    }
  }
}
