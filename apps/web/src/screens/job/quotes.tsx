import type { Job } from "@ledgerboard/contracts/jobs";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { day, money } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { Act } from "./act.tsx";
import { useJob } from "./asking.ts";

type Quote = Job["quotes"][number];

const STATE: Record<Quote["state"], { words: string; alarm: boolean }> = {
  open: { words: "out, not signed", alarm: false },
  accepted: { words: "signed", alarm: false },
  superseded: { words: "replaced", alarm: false },
  declined: { words: "declined", alarm: true },
  expired: { words: "ran out", alarm: true },
  void: { words: "signature void", alarm: true },
};

/** The quotes that went out, newest first. */
export function QuotesPart() {
  const { job, ask } = useJob();
  const may = useMay();
  const { today, company } = useSession();
  const columns: Column<Quote>[] = [
    {
      title: "Quote",
      cell: (quote) =>
        may("quotes.read") ? (
          <Button small kind="text" onPress={() => ask("view_quote", quote.id)}>
            {quote.number}
          </Button>
        ) : (
          quote.number
        ),
    },
    {
      title: "State",
      cell: (quote) => (
        <div>
          <Flag alarm={STATE[quote.state].alarm}>{STATE[quote.state].words}</Flag>
          {quote.signer && (
            <small className="quiet block">
              {quote.signer}
              {quote.signedOn && `, ${day(quote.signedOn, today)}`}
            </small>
          )}
        </div>
      ),
    },
    {
      title: "Issued",
      cell: (quote) => (
        <div>
          {issuedDay(quote.issuedAt, company.timezone, today)}
          <small className="quiet block">stands to {day(quote.expiresOn, today)}</small>
        </div>
      ),
    },
    { title: "Price", num: true, cell: (quote) => money(quote.price) },
  ];
  const newest = job.quotes[0];
  const out = newest && (newest.state === "open" || newest.state === "expired");
  return (
    <Section id="quotes" title="Quotes">
      {job.quotes.length === 0 ? (
        <p className="quiet">No quote has gone out.</p>
      ) : (
        <Table caption="Quotes" columns={columns} rows={job.quotes} rowKey={(quote) => quote.id} />
      )}
      <div className="row no-print">
        {out && <Act name="record_acceptance" id={newest.id} small />}
        {out && <Act name="decline_quote" id={newest.id} small />}
        {newest?.state !== "open" && <Act name="issue_quote" small />}
      </div>
    </Section>
  );
}

const issuedDay = (instant: string, timeZone: string, today: string): string =>
  day(new Intl.DateTimeFormat("en-CA", { timeZone, dateStyle: "short" }).format(new Date(instant)), today);
