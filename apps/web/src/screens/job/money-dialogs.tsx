import { addDays } from "@ledgerboard/contracts/dates";
import type { JobMoney } from "@ledgerboard/contracts/quotes";
import { PAYMENT_METHODS, type PaymentMethod } from "@ledgerboard/contracts/vocabulary";
import { useQuery } from "@tanstack/react-query";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { useSession } from "../../app/session.ts";
import { RadioGroup } from "../../ui/choices.tsx";
import { ReasonDialog } from "../../ui/confirm-dialog.tsx";
import { DayField } from "../../ui/day-field.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Form, FormActions, useForm } from "../../ui/form.tsx";
import { money } from "../../ui/format.ts";
import { MoneyField } from "../../ui/number-fields.tsx";
import { Loaded } from "../../ui/states.tsx";
import { TextField } from "../../ui/text-field.tsx";
import type { Asking } from "./asking.ts";
import { CapLine } from "./money.tsx";

const DUE_IN_DAYS = 7;
const usd = (cents: number) => ({ cents, currency: "USD" as const });

export function DepositDialog({ job, onClose }: Asking) {
  const ledger = useQuery(q.money(job.id));
  return (
    <Dialog title={`Ask for the deposit on ${job.number}`} open onClose={onClose}>
      <Loaded query={ledger} rows={3}>
        {(data) => <DepositForm jobId={job.id} ledger={data} onClose={onClose} />}
      </Loaded>
    </Dialog>
  );
}

function DepositForm({ jobId, ledger, onClose }: { jobId: string; ledger: JobMoney; onClose: () => void }) {
  const { today } = useSession();
  const request = useAct(api.requestDeposit, { done: "The deposit is asked for." });
  const form = useForm({
    initial: { amount: ledger.suggested?.cents ?? null, dueOn: addDays(today, DUE_IN_DAYS) },
    check: ({ amount, dueOn }) => ({
      amount: amount === null ? "Enter the amount; 0 when no deposit is asked." : undefined,
      dueOn: dueOn ? undefined : "Choose the day.",
    }),
    submit: async ({ amount, dueOn }) => {
      await request.send({ params: { jobId }, body: { amount: usd(amount ?? 0), dueOn } });
      onClose();
    },
  });
  return (
    <Form form={form}>
      {ledger.contract && (
        <p>
          The contract is <b>{money(ledger.contract)}</b>.
        </p>
      )}
      {ledger.cap && <CapLine cap={ledger.cap} />}
      <div className="pair">
        <MoneyField label="Deposit" autoFocus {...form.field("amount")} />
        <DayField label="Due on" min={today} {...form.field("dueOn")} />
      </div>
      <FormActions form={form} submit="Ask for it" cancel={onClose} />
    </Form>
  );
}

export const ReceiptDialog = (asking: Asking) => <PaymentDialog {...asking} kind="receipt" />;
export const RefundDialog = (asking: Asking) => <PaymentDialog {...asking} kind="refund" />;

function PaymentDialog({ job, onClose, kind }: Asking & { kind: "receipt" | "refund" }) {
  const ledger = useQuery(q.money(job.id));
  return (
    <Dialog title={kind === "receipt" ? "Money received" : "Money paid back"} open onClose={onClose}>
      <Loaded query={ledger} rows={3}>
        {(data) => <PaymentForm jobId={job.id} ledger={data} kind={kind} onClose={onClose} />}
      </Loaded>
    </Dialog>
  );
}

/** What is likely to come in: the rest of the deposit, else the rest of the contract. */
function expected({ request, paid, balance }: JobMoney): number | null {
  const short = request ? request.amount.cents - paid.cents : 0;
  if (short > 0) return short;
  return balance && balance.cents > 0 ? balance.cents : null;
}

function PaymentForm({
  jobId,
  ledger,
  kind,
  onClose,
}: {
  jobId: string;
  ledger: JobMoney;
  kind: "receipt" | "refund";
  onClose: () => void;
}) {
  const { today } = useSession();
  const back = kind === "refund";
  const record = useAct(api.recordPayment, {
    done: back ? "The refund is entered." : "The receipt is entered.",
  });
  const form = useForm({
    initial: {
      amount: back ? null : expected(ledger),
      receivedOn: today,
      method: "cheque" as PaymentMethod,
      reference: "",
    },
    check: ({ amount, receivedOn }) => ({
      amount: amount ? undefined : "Enter an amount above zero.",
      receivedOn: receivedOn ? undefined : "Choose the day.",
    }),
    submit: async ({ amount, receivedOn, method, reference }) => {
      await record.send({
        params: { jobId },
        body: { kind, method, amount: usd(amount ?? 0), receivedOn, reference },
      });
      onClose();
    },
  });
  return (
    <Form form={form}>
      <p>
        Paid so far: <b>{money(ledger.paid)}</b>. The entry can be reversed later, not edited.
      </p>
      <div className="pair">
        <MoneyField label="Amount" autoFocus {...form.field("amount")} />
        <DayField label={back ? "Paid back on" : "Received on"} max={today} {...form.field("receivedOn")} />
      </div>
      <RadioGroup label="How" options={PAYMENT_METHODS} {...form.field("method")} />
      <TextField
        label="Reference"
        hint="Number of the cheque or the transfer. No card numbers."
        optional
        maxLength={120}
        autoComplete="off"
        {...form.field("reference")}
      />
      <FormActions form={form} submit={back ? "Enter the refund" : "Enter the receipt"} cancel={onClose} />
    </Form>
  );
}

export function ReverseDialog({ job, id, onClose }: Asking) {
  const reverse = useAct(api.reversePayment, { done: "The entry is reversed." });
  const entry = useQuery(q.money(job.id)).data?.entries.find((one) => one.id === id);
  if (!entry) return null;
  return (
    <ReasonDialog
      title={`Reverse the entry of ${money(entry.amount)}`}
      open
      onClose={onClose}
      confirm="Reverse it"
      alarm
      hint="For an entry that was wrong. Money really paid back is a refund."
      onReason={(why) => reverse.send({ params: { paymentId: entry.id }, body: { why } })}
    >
      <p>Both entries stay in the ledger; together they are nothing.</p>
    </ReasonDialog>
  );
}
