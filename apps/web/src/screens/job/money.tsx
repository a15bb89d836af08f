import type { JobMoney } from "@ledgerboard/contracts/quotes";
import { useQuery } from "@tanstack/react-query";
import { q } from "../../api/queries.ts";
import { useMay, useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { day, money, moneyChange, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Loaded } from "../../ui/states.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { Act } from "./act.tsx";
import { useJob } from "./asking.ts";

type Entry = JobMoney["entries"][number];

/** Contract, deposit and the ledger of what was paid. */
export function MoneyPart() {
  const { job } = useJob();
  const may = useMay();
  const ledger = useQuery({ ...q.money(job.id), enabled: may("money.read") });
  return (
    <Section id="deposit" title="Deposit and payments">
      {may("money.read") ? (
        <Loaded query={ledger} rows={3}>
          {(data) => <Ledger of={data} />}
        </Loaded>
      ) : (
        <p className="quiet">Seen by {whoMay("money.read")}.</p>
      )}
    </Section>
  );
}

function Ledger({ of: { contract, request, cap, paid, balance, entries } }: { of: JobMoney }) {
  const { today } = useSession();
  const { job } = useJob();
  const short = request ? request.amount.cents - paid.cents : 0;
  const overdue = request && short > 0 && request.dueOn < today;
  return (
    <>
      {contract || entries.length > 0 ? (
        <dl className="facts job-sums">
          <dt>Contract</dt>
          <dd className="num">{contract ? money(contract) : "no signature stands"}</dd>
          <dt>
            Deposit asked
            {request && request.amount.cents > 0 && <small>, due {day(request.dueOn, today)}</small>}
          </dt>
          <dd className="num">{request ? money(request.amount) : "not asked"}</dd>
          <dt>Paid</dt>
          <dd className="num">{money(paid)}</dd>
          {short > 0 && (
            <>
              <dt>{overdue ? <Flag alarm>deposit overdue</Flag> : "Short of the deposit"}</dt>
              <dd className="num">{money(short)}</dd>
            </>
          )}
          {balance && (
            <>
              <dt className="total">{balance.cents < 0 ? "Paid too much" : "Still to pay"}</dt>
              <dd className="num total">{money(Math.abs(balance.cents))}</dd>
            </>
          )}
        </dl>
      ) : (
        <p className="quiet">No money moves before a signature.</p>
      )}
      {cap && <CapLine cap={cap} />}
      {entries.length > 0 && <Entries entries={entries} />}
      <div className="row no-print">
        {(!request || job.acts.request_deposit?.allowed) && <Act name="request_deposit" small />}
        <Act name="record_payment" small />
        {paid.cents > 0 && <Act name="record_payment" asks="refund" label="Pay money back" small />}
      </div>
    </>
  );
}

/** What may lawfully be asked, with where that is written. */
export function CapLine({ cap }: { cap: NonNullable<JobMoney["cap"]> }) {
  return (
    <p className="job-cap">
      {cap.cap && (
        <>
          Lawful deposit: at most <b>{money(cap.cap)}</b>.{" "}
        </>
      )}
      {cap.rule}{" "}
      <small className="quiet">
        Source: {cap.source}, as of {cap.asOf}.{cap.unsure && " Not confirmed."} <b>{cap.checkLocalLaw}</b>
      </small>
    </p>
  );
}

function Entries({ entries }: { entries: readonly Entry[] }) {
  const { ask } = useJob();
  const { today } = useSession();
  const may = useMay();
  const columns: Column<Entry>[] = [
    { title: "Day", cell: (entry) => <span className="nowrap">{day(entry.receivedOn, today)}</span> },
    {
      title: "Entry",
      cell: (entry) => (
        <div>
          {entry.kind === "reversal"
            ? "Reversal"
            : `${sentence(words(entry.kind))} by ${words(entry.method)}`}{" "}
          {entry.reversed && <Flag>reversed</Flag>}
          <small className="quiet block">{[entry.reference, entry.by].filter(Boolean).join(" · ")}</small>
        </div>
      ),
    },
    {
      title: "Amount",
      num: true,
      cell: (entry) =>
        entry.reversed ? (
          <s>{moneyChange(entry.amount)}</s>
        ) : (
          <span className="nowrap">{moneyChange(entry.amount)}</span>
        ),
    },
  ];
  if (may("money.reverse"))
    columns.push({
      title: "Acts",
      silent: true,
      cell: (entry) =>
        entry.kind !== "reversal" &&
        !entry.reversed && (
          <span className="row end no-print">
            <Button
              small
              kind="text"
              aria-label={`Reverse the entry of ${day(entry.receivedOn, today)}, ${money(entry.amount)}`}
              onPress={() => ask("reverse_payment", entry.id)}
            >
              Reverse
            </Button>
          </span>
        ),
    });
  return (
    <Table caption="Ledger, oldest first" columns={columns} rows={entries} rowKey={(entry) => entry.id} />
  );
}
