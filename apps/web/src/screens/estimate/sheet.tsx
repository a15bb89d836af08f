import type { Finding } from "@ledgerboard/contracts/assessment";
import type { Revision } from "@ledgerboard/contracts/estimates";
import type { Job, Zone } from "@ledgerboard/contracts/jobs";
import { type ReactNode, useDeferredValue, useMemo, useState, useSyncExternalStore } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useSession } from "../../app/session.ts";
import { hours, money, plural, sentence } from "../../ui/format.ts";
import { EmptyState } from "../../ui/states.tsx";
import { Beside } from "./beside.tsx";
import { Bill, MadeOfWhat } from "./bill.tsx";
import { Charges } from "./charges.tsx";
import { useEstimate } from "./context.ts";
import { NewZone } from "./new-zone.tsx";
import { PassDialog } from "./pass-dialog.tsx";
import { placeOf, type Typed } from "./plausible.ts";
import { chargesOf, type Priced, pricer } from "./prices.ts";
import { Remarks, RemarksSummary } from "./remarks.tsx";
import { type Remarking, RemarksContext } from "./remarks-context.ts";
import { ReviewBar } from "./review-bar.tsx";
import { Spread } from "./spread.tsx";
import { type AllRemarks, useRemarks } from "./use-remarks.ts";
import { ZoneLines } from "./zone-lines.tsx";

/** The lines by zone, what they come to, what is remarked on them and what they may cost, as it is typed. */
export function SheetOfLines({ before, coming }: { before: Revision | undefined; coming: Priced | null }) {
  const { job, revision, book, desk, editable, review, openId } = useEstimate();
  const { today } = useSession();
  const turn = useSyncExternalStore(desk.subscribe, desk.turn);
  const { terms } = revision;
  const salt = job.property.saltExposure;
  const price = useMemo(() => pricer({ book, terms, salt }), [book, terms, salt]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the desk's turn stands for what is on it
  const sheet = useMemo(
    () =>
      price(
        revision.lines.map((line) => ({ line, draft: desk.draft(line.id) })),
        chargesOf(revision),
      ),
    [price, revision, desk, turn],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: the desk's turn stands for what is on it
  const changing = useMemo(() => new Set(desk.unsaved().map(({ seen }) => seen.lineageId)), [desk, turn]);
  const later = useDeferredValue(sheet);
  const comingLater = useDeferredValue(coming);
  const typed = useMemo<Typed>(
    () => ({ job, book, sheet: later, coming: comingLater, today }),
    [job, book, later, comingLater, today],
  );
  const remarks = useRemarks(typed, revision, changing);

  const zones = zonesOf(job, revision);
  const ofZone = (zone: Zone) =>
    revision.lines.filter((line) => (desk.draft(line.id)?.edit.zoneId ?? line.zoneId) === zone.id);
  const left = zones
    .flatMap(ofZone)
    .filter((line) => !line.reviewed && desk.draft(line.id)?.reviewed !== true && line.price.price.cents > 0);
  const unsaved = changing.size;
  const { totals } = sheet.whole;
  return (
    <Remarked remarks={remarks}>
      <div className="est-sheet">
        <div className="est-body">
          <RemarksSummary
            findings={remarks.findings}
            placeOf={(finding) => placeOf(finding, job, revision)}
            pending={
              remarks.missing === "failed" && (
                <span className="quiet">What your own past says could not be fetched.</span>
              )
            }
          />
          <Remarks findings={remarks.places.job} label="Remarks on the job" />
          {zones.length === 0 && (
            <EmptyState title="No zones yet">
              A zone is a part of the structure: lower deck, main stair, porch. Lines are written under it.
            </EmptyState>
          )}
          {zones.map((zone) => (
            <ZoneLines
              key={zone.id}
              zone={zone}
              lines={ofZone(zone)}
              sheet={sheet}
              later={later}
              places={remarks.places}
            />
          ))}
          {editable && <NewZone />}
          <Charges />
          <Beside sheet={sheet} />
        </div>
        <aside className="est-side">
          <Bill sheet={sheet} before={before} />
          <Spread sheet={later} />
          <MadeOfWhat sheet={sheet} />
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
    </Remarked>
  );
}

/** What can be answered to a remark, for all that show remarks. */
function Remarked({ remarks, children }: { remarks: AllRemarks; children: ReactNode }) {
  const { revision, editable } = useEstimate();
  const [asked, ask] = useState<Finding | null>(null);
  const { act } = useAct(api.withdrawPass, { done: "Taken back: the remark stands again." });
  const { known } = remarks;
  const { id: revisionId } = revision;
  const context = useMemo<Remarking>(
    () => ({
      known,
      ask,
      takeBack: ({ key }) => act({ params: { revisionId }, body: { key } }),
      editable,
    }),
    [known, act, revisionId, editable],
  );
  return (
    <RemarksContext value={context}>
      {children}
      {asked && <PassDialog finding={asked} onClose={() => ask(null)} />}
    </RemarksContext>
  );
}

/** The job's zones in their order, and any that only the revision still knows. */
function zonesOf(job: Job, revision: Revision): Zone[] {
  if (revision.state === "draft") return job.zones;
  const used = new Set(revision.lines.map(({ zoneId }) => zoneId));
  return job.zones.filter(({ id }) => used.has(id));
}
