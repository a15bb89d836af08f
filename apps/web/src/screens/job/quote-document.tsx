import type { Quote } from "@ledgerboard/contracts/quotes";
import { useQuery } from "@tanstack/react-query";
import { q } from "../../api/queries.ts";
import { useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { longDay, money, words } from "../../ui/format.ts";
import { Loaded } from "../../ui/states.tsx";
import { Table } from "../../ui/table.tsx";
import type { Asking } from "./asking.ts";
import { Sha } from "./quote-dialogs.tsx";

/** A quote exactly as it was issued. */
export function QuoteDialog({ job, id, onClose }: Asking) {
  const quote = useQuery(q.quote(id ?? ""));
  const number = job.quotes.find((one) => one.id === id)?.number;
  return (
    <Dialog title={`Quote ${number ?? ""}`} open onClose={onClose} wide>
      <Loaded query={quote}>{(data) => <Document quote={data} />}</Loaded>
      <div className="row no-print">
        <Button onPress={onClose} autoFocus>
          Close
        </Button>
        <Button onPress={() => print()}>Print</Button>
      </div>
    </Dialog>
  );
}

function Document({ quote }: { quote: Quote }) {
  const { document: paper, acceptance } = quote;
  const { today } = useSession();
  const { company } = paper;
  return (
    <article className="job-paper">
      <header>
        <b>{company.name}</b>
        <small className="quiet">
          {[company.address, company.phone, company.licenceLine, company.insuranceLine]
            .filter(Boolean)
            .join(" · ")}
        </small>
      </header>
      <dl className="facts">
        <dt>For</dt>
        <dd>{paper.customerName}</dd>
        <dt>At</dt>
        <dd>{paper.property}</dd>
        <dt>Work on</dt>
        <dd>
          {paper.title}, {paper.jobNumber}
        </dd>
        <dt>Issued</dt>
        <dd>{longDay(paper.issuedOn)}</dd>
        <dt>Stands to</dt>
        <dd>{longDay(paper.expiresOn)}</dd>
      </dl>
      <Table
        caption="What is offered"
        rows={paper.lines.map((line, at) => ({ ...line, key: String(at) }))}
        rowKey={(line) => line.key}
        columns={[
          {
            title: "Work",
            cell: (line) => (
              <div>
                {line.words}
                <small className="quiet block">
                  {line.zone}, {words(line.by)}
                </small>
              </div>
            ),
            foot: "Together",
          },
          { title: "Price", num: true, cell: (line) => money(line.price), foot: money(paper.price) },
        ]}
      />
      {paper.cautions.length > 0 && (
        <>
          <h3>Cautions</h3>
          <ul>
            {paper.cautions.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      {acceptance && (
        <div className={acceptance.voidWhy ? "notice alarm" : "notice"}>
          <p>
            {acceptance.voidWhy ? "Signed, but the signature no longer stands" : "Signed"}:{" "}
            {acceptance.signer}, {longDay(acceptance.signedOn)}, {SIGNED_AT[acceptance.signedAt]}
          </p>
          {acceptance.voidWhy && <p>{acceptance.voidWhy}</p>}
          {acceptance.cancelUntil && !acceptance.voidWhy && (
            <p>
              The right to cancel {acceptance.cancelUntil < today ? "ran" : "runs"} to the end of{" "}
              {longDay(acceptance.cancelUntil)}. Check local law.
            </p>
          )}
        </div>
      )}
      <Sha of={quote.documentSha256} />
    </article>
  );
}

const SIGNED_AT = { home: "at home", office: "in the office", remote: "from afar" } as const;
