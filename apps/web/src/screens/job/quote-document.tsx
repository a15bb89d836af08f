import type { Quote } from "@ledgerboard/contracts/quotes";
import { useQuery } from "@tanstack/react-query";
import { q } from "../../api/queries.ts";
import { useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { longDay, money, sentence, words } from "../../ui/format.ts";
import { Loaded } from "../../ui/states.tsx";
import { Table } from "../../ui/table.tsx";
import type { Asking } from "./asking.ts";
import { Sha } from "./quote-dialogs.tsx";

type Paper = Quote["document"];

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
        <dt>Good through</dt>
        <dd>{longDay(paper.expiresOn)}</dd>
      </dl>
      <Offer paper={paper} />
      <Beside paper={paper} />
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

/** What is in the price: the lines, and what the job costs as a whole. */
function Offer({ paper }: { paper: Paper }) {
  const rows = [
    ...paper.lines.map(({ words: told, zone, by, price }) => ({
      told,
      under: `${zone}, ${words(by)}`,
      price,
    })),
    ...paper.wholeJob.map(({ words: told, price }) => ({ told, under: "for the whole job", price })),
  ].map((row, at) => ({ ...row, key: String(at) }));
  return (
    <Table
      caption="What is offered"
      rows={rows}
      rowKey={(row) => row.key}
      columns={[
        {
          title: "Work",
          cell: ({ told, under }) => (
            <div>
              {sentence(told)}
              <small className="quiet block">{under}</small>
            </div>
          ),
          foot: "Total",
        },
        {
          title: "Price",
          num: true,
          cell: ({ price }) => (price.cents === 0 ? "—" : money(price)),
          foot: money(paper.price),
        },
      ]}
    />
  );
}

/** What stands beside the price: extras to choose, work charged only if it is found, what falls short of the code. */
function Beside({ paper: { alternates, ifFound, advisories } }: { paper: Paper }) {
  return (
    <>
      {alternates.length > 0 && (
        <>
          <h3>Optional extras</h3>
          <Table
            caption="Optional extras, not in the price"
            rows={alternates}
            rowKey={({ name }) => name}
            columns={[
              {
                title: "Extra",
                cell: ({ name, lines }) => (
                  <div>
                    {name}
                    <small className="quiet block">{lines.join("; ")}</small>
                  </div>
                ),
              },
              { title: "Price", num: true, cell: ({ price }) => money(price) },
            ]}
          />
        </>
      )}
      {ifFound.length > 0 && (
        <>
          <h3>What nobody can see yet</h3>
          <p>
            Charged at the agreed unit price if it is found, up to the cap; beyond it only by a new agreement.
          </p>
          <Table
            caption="Charged only if found"
            rows={ifFound.map((row, at) => ({ ...row, key: String(at) }))}
            rowKey={({ key }) => key}
            columns={[
              {
                title: "Work",
                cell: ({ words: told, zone }) => (
                  <div>
                    {sentence(told)}
                    <small className="quiet block">{zone}</small>
                  </div>
                ),
              },
              {
                title: "Agreed",
                num: true,
                cell: ({ unitPrice, perUnit }) =>
                  `${money(unitPrice)} ${perUnit === "hour" ? "an" : "a"} ${perUnit}`,
              },
              {
                title: "At most",
                num: true,
                cell: ({ capQuantity, cap }) => `${capQuantity}, ${money(cap)}`,
              },
            ]}
          />
        </>
      )}
      {advisories.length > 0 && (
        <>
          <h3>Short of today's code</h3>
          <ul>
            {advisories.map(({ words: told, reference, decision }) => (
              <li key={told}>
                {told} <small className="quiet">{reference}</small>
                <small className="block">{sentence(decision)}</small>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

const SIGNED_AT = { home: "at home", office: "in the office", remote: "from afar" } as const;
