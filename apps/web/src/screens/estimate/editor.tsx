import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import type { Job, Zone } from "@ledgerboard/contracts/jobs";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { totalPrice } from "@ledgerboard/estimating";
import { Link, useNavigate } from "@tanstack/react-router";
import { useEffect, useMemo, useState, useSyncExternalStore } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { hours, moment, money, plural, sentence, words } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { EmptyState } from "../../ui/states.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { type Estimate, EstimateContext } from "./context.ts";
import { type Desk, deskOf } from "./desk.ts";
import { problemOf } from "./edit.ts";
import { IssueDialog } from "./issue-dialog.tsx";
import { NewZone } from "./new-zone.tsx";
import { pricer } from "./prices.ts";
import { ReviewBar } from "./review-bar.tsx";
import { Totals } from "./totals.tsx";
import { ZoneLines } from "./zone-lines.tsx";

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
  useSyncExternalStore(desk.subscribe, desk.turn);
  const [openId, setOpen] = useState<string | null>(null);
  const [asked, setAsked] = useState<"issue" | "discard" | null>(null);
  const review = revision.kind === "site_review";
  const permission = review ? "estimates.site_review" : "estimates.first_pass";
  const draft = revision.state === "draft";
  const act = job.acts.edit_revision;
  const editable = draft && may(permission) && act?.allowed === true;

  const baseOf = useMemo(() => {
    const bases = new Map(review ? before?.lines.map((line) => [line.lineageId, line]) : []);
    return (line: ScopeLine) => bases.get(line.lineageId) ?? null;
  }, [before, review]);
  const baseName = before ? revisionName(before) : "";
  useWatch(desk, revision, editable);
  desk.problem = (edit, line) => problemOf(edit, review, baseOf(line));

  const { terms } = revision;
  const priceOf = useMemo(() => pricer(book, terms), [book, terms]);
  const shown = revision.lines.map((line) => ({ line, priced: priceOf(line, desk.draft(line.id)) }));
  const totals = totalPrice(shown.flatMap(({ priced }) => priced.price ?? []));
  const zones = zonesOf(job, revision);
  const ofZone = (zone: Zone) =>
    shown.filter(({ line }) => (desk.draft(line.id)?.edit.zoneId ?? line.zoneId) === zone.id);
  const left = zones
    .flatMap(ofZone)
    .map(({ line }) => line)
    .filter((line) => !line.reviewed && desk.draft(line.id)?.reviewed !== true && line.price.price.cents > 0);
  const unsaved = desk.unsaved().length;
  const name = `${sentence(words(revision.kind))}, revision ${revision.number}`;

  const context = useMemo<Estimate>(
    () => ({ job, revision, book, desk, editable, review, baseOf, baseName, openId, setOpen }),
    [job, revision, book, desk, editable, review, baseOf, baseName, openId],
  );
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
        {editable && book && book.name !== revision.priceBookName && (
          <p className="notice">
            This revision is priced from “{revision.priceBookName}”. What you choose anew is shown at today's
            prices until it is saved.
          </p>
        )}
        <div className="est-sheet">
          <div className="est-body">
            {zones.length === 0 && (
              <EmptyState title="No zones yet">
                A zone is a part of the structure: lower deck, main stair, porch. Lines are written under it.
              </EmptyState>
            )}
            {zones.map((zone) => (
              <ZoneLines key={zone.id} zone={zone} lines={ofZone(zone)} />
            ))}
            {editable && <NewZone />}
          </div>
          <aside className="est-side">
            <Totals totals={totals} terms={terms} before={before} />
            <p className="quiet">
              <small>Prices from {revision.priceBookName}.</small>
            </p>
          </aside>
        </div>
        {editable && (
          <div className={openId ? "est-foot est-writing no-print" : "est-foot no-print"}>
            {review && <ReviewBar left={left} totalCents={before?.totals.price.cents ?? 0} />}
            <div className="est-foot-sum">
              <span role="status" className={unsaved > 0 ? "est-unsaved" : "quiet"}>
                {unsaved > 0 ? `${sentence(plural(unsaved, "line"))} not saved yet` : "All saved"}
              </span>
              <span className="num">
                {hours(totals.hours)} <b>{money(totals.priceCents)}</b>
              </span>
            </div>
          </div>
        )}
      </Page>
      {asked === "issue" && <IssueDialog onClose={() => setAsked(null)} />}
      {asked === "discard" && (
        <Discard onClose={() => setAsked(null)} desk={desk} job={job} revision={revision} />
      )}
    </EstimateContext>
  );
}

/** Follows what others save, saves on leaving, tries again when the connection is back. */
function useWatch(desk: Desk, { lines }: Revision, editable: boolean): void {
  useEffect(() => desk.follow(lines), [desk, lines]);
  useEffect(() => {
    if (!editable) return;
    const ask = (event: BeforeUnloadEvent) => {
      if (desk.unsaved().length > 0) event.preventDefault();
    };
    const hidden = () => {
      if (document.visibilityState === "hidden") desk.flushAll();
    };
    window.addEventListener("online", desk.flushAll);
    window.addEventListener("beforeunload", ask);
    document.addEventListener("visibilitychange", hidden);
    return () => {
      desk.flushAll();
      window.removeEventListener("online", desk.flushAll);
      window.removeEventListener("beforeunload", ask);
      document.removeEventListener("visibilitychange", hidden);
    };
  }, [desk, editable]);
}

/** "First pass"; a site review is one of several and has its number. */
const revisionName = ({ kind, number }: Revision): string =>
  sentence(words(kind)) + (kind === "first_pass" ? "" : `, revision ${number}`);

/** The job's zones in their order, and any that only the revision still knows. */
function zonesOf(job: Job, revision: Revision): Zone[] {
  if (revision.state === "draft") return job.zones;
  const used = new Set(revision.lines.map(({ zoneId }) => zoneId));
  return job.zones.filter(({ id }) => used.has(id));
}

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

function Discard({
  onClose,
  desk,
  job,
  revision,
}: Omit<Props, "before" | "book"> & { onClose: () => void; desk: Desk }) {
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
