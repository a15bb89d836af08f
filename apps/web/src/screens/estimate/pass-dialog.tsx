import type { Finding } from "@ledgerboard/contracts/assessment";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { ReasonDialog } from "../../ui/confirm-dialog.tsx";
import { useEstimate } from "./context.ts";

/** Asks why a remark is let pass. */
export function PassDialog({ finding, onClose }: { finding: Finding; onClose: () => void }) {
  const { revision } = useEstimate();
  const pass = useAct(api.passFinding, { done: "Let pass, with your reason." });
  return (
    <ReasonDialog
      title="Let it pass?"
      open
      onClose={onClose}
      confirm="Let it pass"
      label="Because"
      hint="Stays on record with your name. When the numbers change, it asks again."
      onReason={(why) => pass.send({ params: { revisionId: revision.id }, body: { key: finding.key, why } })}
    >
      <p>{finding.words}</p>
    </ReasonDialog>
  );
}
