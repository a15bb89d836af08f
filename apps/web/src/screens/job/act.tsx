import { useId } from "react";
import { useMay } from "../../app/session.ts";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { ACTS, type ActName, type AskName, draftOf, useJob, verdict } from "./asking.ts";

interface Props {
  name: ActName;
  /** What it is about, where the job has several. */
  id?: string | undefined;
  label?: string;
  kind?: "main" | "text";
  small?: boolean;
  alarm?: boolean;
  /** Where another act would be named: asks this instead. */
  asks?: AskName;
}

/** One act of the job. What cannot be done now stays in sight with its reason, what a role may not says whose it is. */
export function Act({ name, id, label, asks, ...looks }: Props) {
  const { job, ask } = useJob();
  const may = useMay();
  const whyId = useId();
  const [own, permission] = ACTS[name];
  const text = label ?? own;
  if (!may(permission))
    return (
      <small className="job-why quiet">
        {text}: {whoMay(permission)} may.
      </small>
    );
  const { allowed, why } = verdict(job, name);
  if (allowed && (name === "edit_revision" || name === "issue_revision")) return <DraftLink {...looks} />;
  return (
    <span className="job-act">
      <Button
        {...looks}
        isDisabled={!allowed}
        {...(why && { "aria-describedby": whyId })}
        onPress={() => ask(asks ?? (name as AskName), id)}
      >
        {text}
      </Button>
      {!allowed && why && (
        <small id={whyId} className="job-why quiet">
          {why}
        </small>
      )}
    </span>
  );
}

function DraftLink(looks: Pick<Props, "kind" | "small">) {
  const { job } = useJob();
  const draft = draftOf(job);
  if (!draft) return null;
  return (
    <ButtonLink
      {...looks}
      to="/jobs/$jobId/estimate/$revisionId"
      params={{ jobId: job.id, revisionId: draft.id }}
    >
      Open the draft
    </ButtonLink>
  );
}
