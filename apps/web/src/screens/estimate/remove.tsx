import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { words } from "@ledgerboard/contracts/vocabulary";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { Button } from "../../ui/button.tsx";
import { toast } from "../../ui/toast.tsx";
import { useEstimate } from "./context.ts";

/** Takes a line out, with a way back. What a site review was copied from cannot go without a trace. */
export function Remove({ line, base }: { line: ScopeLine; base: ScopeLine | null }) {
  const { revision, desk, setOpen } = useEstimate();
  const put = useAct(api.addLine, { done: "It is back, at the end of its zone." });
  const remove = useAct(api.removeLine, {
    onDone: () => {
      const { zoneId, component, action, assemblyCode, description, quantity, unit, evidence, by } = line;
      const { alternate, allowance, reasonCode, reason } = line;
      toast(`Taken out: ${line.zoneName}, ${words(component)}, ${words(action)}.`, {
        undo: () =>
          put.act({
            params: { revisionId: revision.id },
            body: {
              zoneId,
              component,
              action,
              assemblyCode,
              description,
              quantity,
              unit,
              evidence,
              by,
              alternate,
              allowance,
              reasonCode,
              reason,
            },
          }),
      });
    },
  });
  if (base) return <small className="quiet">Not needed? Choose keep and say why.</small>;
  return (
    <Button
      small
      alarm
      busy={remove.busy}
      onPress={() => {
        desk.giveUp(line.id);
        setOpen(null);
        remove.act({ params: { lineId: line.id } });
      }}
    >
      Take the line out
    </Button>
  );
}
