import type { Customer } from "@ledgerboard/contracts/customers";
import type { createLead } from "@ledgerboard/contracts/jobs";
import { useQuery } from "@tanstack/react-query";
import { useEffect, useRef, useState } from "react";
import { q } from "../../api/queries.ts";
import type { Output } from "../../api/wire.ts";
import { useMay } from "../../app/session.ts";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { Page } from "../../ui/page.tsx";
import { Section } from "../../ui/section.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { useMerge } from "../customers/merging.ts";

export type Opened = Output<typeof createLead>;

/** The inquiry is on record: where it is, and whether its caller was known all along. */
export function Taken({ opened, onAnother }: { opened: Opened; onAnother: () => void }) {
  const onward = useRef<HTMLDivElement>(null);
  // The button that was pressed is gone.
  useEffect(() => onward.current?.querySelector("a")?.focus(), []);
  return (
    <Page
      title={`${opened.number} is open`}
      lead="It stands in the waiting list from now on; somebody has to look at it and write the first pass."
    >
      <div className="row" ref={onward}>
        <ButtonLink to="/jobs/$jobId" params={{ jobId: opened.jobId }} kind="main">
          Open {opened.number}
        </ButtonLink>
        <Button onPress={onAnother}>Take another inquiry</Button>
      </div>
      {opened.duplicates.length > 0 && <KnownAlready opened={opened} />}
    </Page>
  );
}

function KnownAlready({ opened: { jobId, duplicates } }: { opened: Opened }) {
  const caller = useQuery(q.job(jobId)).data?.customer;
  const may = useMay();
  const [mergedInto, setMergedInto] = useState<string | null>(null);
  const merge = useMerge((keep) => setMergedInto(keep.id));
  const same = (one: Customer) =>
    [
      one.phone && caller?.phone && digits(one.phone) === digits(caller.phone) && "phone number",
      one.email && one.email.toLowerCase() === caller?.email?.toLowerCase() && "mail address",
    ]
      .filter(Boolean)
      .join(" and ") || "phone number or mail address";
  return (
    <Section title="Known already?" className="inquiry-doubles">
      <ul className="plain entries">
        {duplicates.map((one) => (
          <li key={one.id} className="entry inquiry-double">
            <p>
              <b>{one.name}</b> has the same {same(one)}.
              <small className="quiet block">{[one.phone, one.email].filter(Boolean).join(" · ")}</small>
            </p>
            {may("customers.merge") && caller && caller.id !== one.id && !mergedInto && (
              <Button small busy={merge.busy} onPress={() => merge.fold(one, caller)}>
                Merge into {one.name}
              </Button>
            )}
            {mergedInto === one.id && <span className="quiet">merged</span>}
          </li>
        ))}
      </ul>
      {!may("customers.merge") && (
        <p className="quiet">Merged by {whoMay("customers.merge")}; they find the pair under Customers.</p>
      )}
    </Section>
  );
}

const digits = (phone: string): string => phone.replace(/\D/g, "").slice(-10);
