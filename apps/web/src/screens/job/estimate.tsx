import type { Job } from "@ledgerboard/contracts/jobs";
import { Link, useNavigate } from "@tanstack/react-router";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay, useSession } from "../../app/session.ts";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { hours, moment, money, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { Act } from "./act.tsx";
import { type Asking, useJob } from "./asking.ts";

type Revision = Job["revisions"][number];

/** The revisions of the estimate, oldest first. */
export function EstimatePart() {
  const { job } = useJob();
  const { company } = useSession();
  const may = useMay();
  const name = (revision: Revision) => `${sentence(words(revision.kind))}, no. ${revision.number}`;
  const columns: Column<Revision>[] = [
    {
      title: "Revision",
      cell: (revision) => (
        <div>
          {may("estimates.read") ? (
            <Link to="/jobs/$jobId/estimate/$revisionId" params={{ jobId: job.id, revisionId: revision.id }}>
              {name(revision)}
            </Link>
          ) : (
            name(revision)
          )}{" "}
          {revision.state === "draft" && <Flag>draft</Flag>}
          {may("estimates.read") && <Ways jobId={job.id} revisionId={revision.id} />}
        </div>
      ),
    },
    {
      title: "By",
      cell: (revision) => (
        <div>
          {revision.author}
          <small className="quiet block">
            {revision.issuedAt
              ? `issued ${moment(revision.issuedAt, company.timezone)}`
              : `begun ${moment(revision.createdAt, company.timezone)}`}
          </small>
        </div>
      ),
    },
    { title: "Hours", num: true, cell: (revision) => hours(revision.hours) },
    { title: "Price", num: true, cell: (revision) => money(revision.price) },
  ];
  const issued = job.revisions.filter(({ state }) => state === "issued");
  return (
    <Section id="estimate" title="Estimate">
      {job.revisions.length === 0 ? (
        <p className="quiet">Nothing is priced yet.</p>
      ) : (
        <Table
          caption="Revisions of the estimate"
          columns={columns}
          rows={job.revisions}
          rowKey={(one) => one.id}
        />
      )}
      <div className="row no-print">
        {job.acts.issue_revision?.allowed && <Act name="issue_revision" small />}
        {issued.length === 0 ? <Act name="start_first_pass" small /> : <Act name="start_site_review" small />}
        {issued.length > 1 && may("estimates.read") && (
          <Link to="/jobs/$jobId/compare" params={{ jobId: job.id }}>
            Compare first and newest
          </Link>
        )}
      </div>
    </Section>
  );
}

/** Where a revision leads besides its lines. */
function Ways({ jobId, revisionId }: { jobId: string; revisionId: string }) {
  const params = { jobId, revisionId };
  return (
    <small className="block no-print">
      <Link to="/jobs/$jobId/estimate/$revisionId/cut-plan" params={params}>
        what to buy and cut
      </Link>
      {", "}
      <Link to="/jobs/$jobId/estimate/$revisionId/choices" params={params}>
        repair or build new
      </Link>
    </small>
  );
}

export const FirstPassDialog = (asking: Asking) => (
  <StartDialog {...asking} kind="first_pass">
    A draft is opened with your name on it. Its lines take their rates from today's price book.
  </StartDialog>
);

export const SiteReviewDialog = (asking: Asking) => (
  <StartDialog {...asking} kind="site_review">
    The newest issued revision is copied; every line that carries money is then to be looked at.
  </StartDialog>
);

function StartDialog({
  job,
  onClose,
  kind,
  children,
}: Asking & { kind: "first_pass" | "site_review"; children: string }) {
  const navigate = useNavigate();
  const start = useAct(api.startRevision, {
    onDone: ({ id }) =>
      void navigate({ to: "/jobs/$jobId/estimate/$revisionId", params: { jobId: job.id, revisionId: id } }),
  });
  return (
    <ConfirmDialog
      title={`Start the ${words(kind)}`}
      open
      onClose={onClose}
      confirm="Start"
      busy={start.busy}
      onConfirm={() => start.act({ params: { jobId: job.id }, body: { kind } })}
    >
      <p>{children}</p>
    </ConfirmDialog>
  );
}
