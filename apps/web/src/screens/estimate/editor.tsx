import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import type { Job } from "@ledgerboard/contracts/jobs";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { Link } from "@tanstack/react-router";
import { useMemo, useState } from "react";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { moment, sentence, words } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { type Estimate, EstimateContext } from "./context.ts";
import { deskOf } from "./desk.ts";
import { Discard } from "./discard.tsx";
import { problemOf } from "./edit.ts";
import { IssueDialog } from "./issue-dialog.tsx";
import { NewerPrices } from "./newer-prices.tsx";
import type { Priced } from "./prices.ts";
import { SheetOfLines } from "./sheet.tsx";
import { useWatch } from "./use-watch.ts";

interface Props {
  job: Job;
  revision: Revision;
  /** What a site review was copied from. */
  before: Revision | undefined;
  book: PriceBook | undefined;
}

/** A revision of the estimate, zone by zone: written to while it is a draft, read once it is issued. */
export function Editor({ job, revision, before, book }: Props) {
  const { member } = useSession();
  const may = useMay();
  const desk = deskOf(job.id, revision.id, member.id);
  const [openId, setOpen] = useState<string | null>(null);
  const [coming, setComing] = useState<Priced | null>(null);
  const [asked, setAsked] = useState<"issue" | "discard" | null>(null);
  const review = revision.kind === "site_review";
  const permission = review ? "estimates.site_review" : "estimates.first_pass";
  const draft = revision.state === "draft";
  const act = job.acts.edit_revision;
  const editable = draft && may(permission) && act?.allowed === true;
  const mayPrice = editable && may("price_book.edit");

  const baseOf = useMemo(() => {
    const bases = new Map(review ? before?.lines.map((line) => [line.lineageId, line]) : []);
    return (line: ScopeLine) => bases.get(line.lineageId) ?? null;
  }, [before, review]);
  const baseName = before ? revisionName(before) : "";
  useWatch(desk, revision, editable);
  desk.problem = (edit, line) => problemOf(edit, review, baseOf(line));
  const extras = useMemo(
    () => [...new Set(revision.lines.flatMap(({ alternate }) => alternate ?? []))],
    [revision],
  );

  const context = useMemo<Estimate>(
    () => ({
      job,
      revision,
      book,
      desk,
      editable,
      mayPrice,
      review,
      baseOf,
      baseName,
      extras,
      openId,
      setOpen,
      setComing,
    }),
    [job, revision, book, desk, editable, mayPrice, review, baseOf, baseName, extras, openId],
  );
  const name = `${sentence(words(revision.kind))}, revision ${revision.number}`;
  return (
    <EstimateContext value={context}>
      <Page
        title={`${name}, ${job.number}`}
        over={
          <Link to="/jobs/$jobId" params={{ jobId: job.id }}>
            {job.number} {job.customerName}
          </Link>
        }
        heading={name}
        lead={<Lead job={job} revision={revision} />}
        actions={
          editable && (
            <>
              <Button alarm onPress={() => setAsked("discard")}>
                Throw away
              </Button>
              <Button kind="main" onPress={() => setAsked("issue")}>
                Issue
              </Button>
            </>
          )
        }
      >
        {!editable && (
          <p className="notice">
            {draft
              ? may(permission)
                ? (act?.why ?? "It cannot be changed now.")
                : `Only to read: ${whoMay(permission)} may change it.`
              : "Issued: it stays as it is for good. A later change is another revision."}
          </p>
        )}
        <Ways job={job} revision={revision} />
        {editable && revision.newerPrices && <NewerPrices newer={revision.newerPrices} />}
        <SheetOfLines before={before} coming={coming} />
      </Page>
      {asked === "issue" && <IssueDialog onClose={() => setAsked(null)} />}
      {asked === "discard" && <Discard onClose={() => setAsked(null)} />}
    </EstimateContext>
  );
}

/** "First pass"; a site review is one of several and has its number. */
const revisionName = ({ kind, number }: Revision): string =>
  sentence(words(kind)) + (kind === "first_pass" ? "" : `, revision ${number}`);

function Lead({ job, revision }: { job: Job; revision: Revision }) {
  const { company } = useSession();
  return (
    <>
      {sentence(job.title)}, {job.property.city}.{" "}
      {revision.issuedAt
        ? `Issued ${moment(revision.issuedAt, company.timezone)}, by ${revision.author}.`
        : `A draft by ${revision.author}, begun ${moment(revision.createdAt, company.timezone)}.`}
    </>
  );
}

/** Where else this revision leads. */
function Ways({ job, revision }: { job: Job; revision: Revision }) {
  const params = { jobId: job.id, revisionId: revision.id };
  return (
    <nav className="est-ways no-print" aria-label="More of this revision">
      <Link to="/jobs/$jobId/estimate/$revisionId/cut-plan" params={params}>
        What to buy and cut
      </Link>
      <Link to="/jobs/$jobId/estimate/$revisionId/choices" params={params}>
        Repair or build new, and what it costs over the years
      </Link>
      {revision.basedOnId && (
        <Link
          to="/jobs/$jobId/compare"
          params={{ jobId: job.id }}
          search={{ from: revision.basedOnId, to: revision.id }}
        >
          What changed
        </Link>
      )}
    </nav>
  );
}
