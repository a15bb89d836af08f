import type { Finding } from "@ledgerboard/contracts/assessment";
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { money, moneyChange, plural, sentence, words } from "../../ui/format.ts";
import { ErrorState, Loading } from "../../ui/states.tsx";
import { useEstimate } from "./context.ts";
import { placeOf, standInTheWay } from "./plausible.ts";
import { Jumps } from "./remarks.tsx";

type Issued = { material: boolean; varianceId: string | null; consequences: string[] };

/** Closes a draft for good: says before what follows, and afterwards what did. */
export function IssueDialog({ onClose }: { onClose: () => void }) {
  const { revision } = useEstimate();
  const [issued, setIssued] = useState<Issued | null>(null);
  return (
    <Dialog
      title={issued ? `${sentence(words(revision.kind))} issued` : `Issue the ${words(revision.kind)}`}
      open
      onClose={onClose}
    >
      {issued ? (
        <Followed issued={issued} onClose={onClose} />
      ) : (
        <Ask onIssued={setIssued} onClose={onClose} />
      )}
    </Dialog>
  );
}

function Ask({ onIssued, onClose }: { onIssued: (issued: Issued) => void; onClose: () => void }) {
  const { revision, desk } = useEstimate();
  const issue = useAct(api.issueRevision, { onDone: onIssued });
  const assessment = useQuery({ ...q.assessment(revision.id), staleTime: 0, refetchOnMount: "always" });
  const blocking = standInTheWay(assessment.data?.findings ?? []);
  const { unreviewed, lines, totals } = revision;
  const unsaved = desk.unsaved().length;
  const why =
    unsaved > 0
      ? `${sentence(plural(unsaved, "line"))} not saved yet. Save or undo first.`
      : lines.length === 0
        ? "There are no lines yet. Add what needs work first."
        : unreviewed.lines > 0
          ? `${money(unreviewed.price)} on ${plural(unreviewed.lines, "line")} is not reviewed yet. Look at each, then issue.`
          : totals.price.cents === 0
            ? "Nothing carries a price yet."
            : null;
  return (
    <>
      <p>
        At <b>{money(totals.price)}</b>. Once issued it stays as it is for good; a later change is another
        revision.
      </p>
      {revision.basedOnId && <WillFollow fromId={revision.basedOnId} />}
      {why && <p className="notice alarm">{why}</p>}
      {blocking.length > 0 && <InTheWay findings={blocking} onClose={onClose} />}
      <div className="row">
        <Button
          kind="main"
          isDisabled={why !== null || blocking.length > 0 || assessment.isPending}
          busy={issue.busy}
          onPress={() => issue.act({ params: { revisionId: revision.id } })}
        >
          Issue it
        </Button>
        <Button onPress={onClose}>Leave it</Button>
      </div>
    </>
  );
}

/** What has to be mended, or let pass with a reason, before the draft can be issued. */
function InTheWay({ findings, onClose }: { findings: readonly Finding[]; onClose: () => void }) {
  const { revision, job } = useEstimate();
  return (
    <div className="notice alarm">
      <p>
        {sentence(plural(findings.length, "remark"))} in the way. Mend each, or let it pass with a reason:
      </p>
      <Jumps findings={findings} placeOf={(finding) => placeOf(finding, job, revision)} onJump={onClose} />
    </div>
  );
}

/** The policy's verdict on the draft, and what that means for quotes, signature and crew. */
function WillFollow({ fromId }: { fromId: string }) {
  const { revision, job } = useEstimate();
  const comparison = useQuery({
    ...q.comparison(job.id, { from: fromId, to: revision.id }),
    staleTime: 0,
    refetchOnMount: "always",
  });
  if (comparison.isFetching && !comparison.data) return <Loading rows={3} />;
  if (!comparison.data)
    return <ErrorState error={comparison.error} onRetry={() => void comparison.refetch()} />;
  const { material, rules, delta } = comparison.data;
  const open = job.quotes.filter(({ state }) => state === "open");
  const signed = job.quotes.find(({ state }) => state === "accepted");
  return (
    <div className={material ? "notice alarm" : "notice"}>
      <p>
        {material ? "This is a material change" : "This is not a material change"}: {moneyChange(delta)}.
      </p>
      <ul>
        {rules
          .filter(({ fired }) => fired)
          .map((rule) => (
            <li key={rule.rule}>{rule.words}</li>
          ))}
        {open.map((quote) => (
          <li key={quote.id}>
            Quote {quote.number} for {money(quote.price)} will be superseded.
          </li>
        ))}
        {signed && (
          <li>
            {signed.signer}'s signature on {signed.number}{" "}
            {material ? "will no longer stand: the customer has to sign a changed quote." : "still stands."}
          </li>
        )}
        {signed && !material && (
          <li>If small changes add up to a material one since the signature, it falls all the same.</li>
        )}
        {material && job.booking && <li>The crew booked from {job.booking.startOn} will be on hold.</li>}
        {open.length === 0 && !signed && <li>No quote is out, so none is superseded.</li>}
      </ul>
    </div>
  );
}

function Followed({ issued, onClose }: { issued: Issued; onClose: () => void }) {
  const { revision, job } = useEstimate();
  return (
    <>
      {issued.varianceId && (
        <p>{issued.material ? <b>It is a material change.</b> : "It is not a material change."}</p>
      )}
      {issued.consequences.length > 0 ? (
        <ul className="est-followed">
          {issued.consequences.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      ) : (
        <p>Nothing else had to change.</p>
      )}
      <div className="row">
        {revision.basedOnId && (
          <ButtonLink
            kind="main"
            to="/jobs/$jobId/compare"
            params={{ jobId: job.id }}
            search={{ from: revision.basedOnId, to: revision.id }}
          >
            See what changed
          </ButtonLink>
        )}
        <Link to="/jobs/$jobId" params={{ jobId: job.id }}>
          To the job
        </Link>
        <Button onPress={onClose}>Stay here</Button>
      </div>
    </>
  );
}
