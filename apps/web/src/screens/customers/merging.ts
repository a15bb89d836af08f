import type { Customer } from "@ledgerboard/contracts/customers";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { errorWords } from "../../api/problem.ts";
import { toast } from "../../ui/toast.tsx";

type Named = Pick<Customer, "id" | "name">;

/** Folds one customer into another, and offers to take that back. */
export function useMerge(onDone?: (keep: Named) => void) {
  const merge = useAct(api.mergeCustomers);
  const unmerge = useAct(api.unmergeCustomer);
  const fold = (keep: Named, other: Named) => {
    const both = { params: { customerId: keep.id }, body: { otherId: other.id } };
    merge
      .send(both)
      .then(() => {
        toast(`${other.name} is folded into ${keep.name}.`, {
          undo: () =>
            void unmerge
              .send(both)
              .then(() => toast(`${other.name} stands alone again.`))
              .catch((error: unknown) => toast(errorWords(error), { alarm: true })),
        });
        onDone?.(keep);
      })
      .catch((error: unknown) => toast(errorWords(error), { alarm: true }));
  };
  return { fold, busy: merge.busy || unmerge.busy };
}
