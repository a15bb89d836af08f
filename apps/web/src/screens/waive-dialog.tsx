import { useAct } from "../api/act.ts";
import { api } from "../api/generated/endpoints.ts";
import { ReasonDialog } from "../ui/confirm-dialog.tsx";
import { moneyChange } from "../ui/format.ts";

/** The owner lets a material change pass, and says why. */
export function WaiveDialog({
  varianceId,
  delta,
  onClose,
}: {
  varianceId: string;
  delta: { cents: number };
  onClose: () => void;
}) {
  const waive = useAct(api.waiveVariance, { done: "The change is waived." });
  return (
    <ReasonDialog
      title="Let the change pass"
      open
      onClose={onClose}
      confirm="Waive the change"
      hint="It is kept on record under your name."
      onReason={(why) => waive.send({ params: { varianceId }, body: { why } })}
    >
      <p>
        The price moves by {moneyChange(delta)}. The hold for the change is lifted. A signature that the
        change has ended stays void: where there was one, the customer still has to sign anew.
      </p>
    </ReasonDialog>
  );
}
