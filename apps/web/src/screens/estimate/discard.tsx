import { useNavigate } from "@tanstack/react-router";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { plural, words } from "../../ui/format.ts";
import { useEstimate } from "./context.ts";

/** Asks before a draft is thrown away. */
export function Discard({ onClose }: { onClose: () => void }) {
  const { desk, job, revision } = useEstimate();
  const navigate = useNavigate();
  const discard = useAct(api.discardRevision, {
    done: "The draft is thrown away.",
    onDone: () => {
      for (const { seen } of desk.unsaved()) desk.giveUp(seen.id);
      void navigate({ to: "/jobs/$jobId", params: { jobId: job.id } });
    },
  });
  const seen = revision.lines.filter(({ reviewed }) => reviewed).length;
  return (
    <ConfirmDialog
      title={`Throw the ${words(revision.kind)} away?`}
      open
      onClose={onClose}
      confirm="Throw it away"
      alarm
      busy={discard.busy}
      onConfirm={() => discard.act({ params: { revisionId: revision.id } })}
    >
      <p>
        Its {plural(revision.lines.length, "line")}
        {seen > 0 && `, ${plural(seen, "line")} of them reviewed,`} will be gone. What was issued before
        stays.
      </p>
    </ConfirmDialog>
  );
}
