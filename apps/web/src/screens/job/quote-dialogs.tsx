import type { Quote } from "@ledgerboard/contracts/quotes";
import { SIGNING_PLACES, type SigningPlace } from "@ledgerboard/contracts/vocabulary";
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
import { longDay, money } from "../../ui/format.ts";
import { WholeField } from "../../ui/number-fields.tsx";
import { Loaded } from "../../ui/states.tsx";
import { TextField } from "../../ui/text-field.tsx";
import type { Asking } from "./asking.ts";

export function IssueQuoteDialog({ job, onClose }: Asking) {
  const issue = useAct(api.issueQuote, { done: "The quote is issued." });
  const usual = useQuery(q.company()).data?.quoteValidDays;
  const revision = job.revisions.findLast(({ state }) => state === "issued");
  const signed = job.quotes.some(({ state }) => state === "accepted");
  const form = useForm({
    initial: { validDays: null as number | null },
    submit: async ({ validDays }) => {
      await issue.send({ params: { jobId: job.id }, body: validDays === null ? {} : { validDays } });
      onClose();
    },
  });
  return (
    <Dialog title={`Issue a quote for ${job.number}`} open onClose={onClose}>
      <Form form={form}>
        {revision && (
          <p>
            From revision {revision.number}, <b>{money(revision.price)}</b>. What it offers is frozen: a later
            change needs a new quote.
          </p>
        )}
        {signed && (
          <p className="notice alarm">
            The signature on the earlier quote no longer stands once this one is out.
          </p>
        )}
        <WholeField
          label="Stands for"
          suffix="days"
          optional
          hint={usual ? `Left empty: ${usual} days, as usual.` : "Left empty: as many days as usual."}
          {...form.field("validDays")}
        />
        <FormActions form={form} submit="Issue the quote" cancel={onClose} />
      </Form>
    </Dialog>
  );
}

export function AcceptanceDialog({ id, ...asking }: Asking) {
  const quote = useQuery({ ...q.quote(id ?? ""), enabled: id !== undefined });
  return (
    <Dialog title="Record the signature" open onClose={asking.onClose}>
      {id ? (
        <Loaded query={quote}>{(data) => <AcceptanceForm {...asking} quote={data} />}</Loaded>
      ) : (
        <p>No quote is out.</p>
      )}
    </Dialog>
  );
}

const PLACES: Record<SigningPlace, { label: string; hint: string }> = {
  home: { label: "At the customer's home", hint: "or anywhere else that is not your own office" },
  office: { label: "In your office", hint: "there is no federal right to cancel" },
  remote: { label: "From afar", hint: "by mail or on a screen; counts like at home" },
};

function AcceptanceForm({ job, quote, onClose }: Omit<Asking, "id"> & { quote: Quote }) {
  const { today } = useSession();
  const record = useAct(api.recordAcceptance, { done: "The signature is on record." });
  const form = useForm({
    initial: { signer: job.customer.name, signedOn: today, signedAt: "" as SigningPlace | "" },
    check: ({ signer, signedOn, signedAt }) => ({
      signer: signer.trim() ? undefined : "Enter the name that was signed.",
      signedOn: signedOn ? undefined : "Choose the day.",
      signedAt: signedAt ? undefined : "Choose where; the right to cancel depends on it.",
    }),
    submit: async ({ signer, signedOn, signedAt }) => {
      if (!signedAt) return;
      await record.send({
        params: { quoteId: quote.id },
        body: { signer, signedOn, signedAt, documentSha256: quote.documentSha256 },
      });
      onClose();
    },
  });
  return (
    <Form form={form}>
      <p>
        Quote <b>{quote.number}</b> for <b>{money(quote.price)}</b>, stands to {longDay(quote.expiresOn)}.
        Compare the paper that was signed with it: only this exact quote counts.
      </p>
      <div className="pair">
        <TextField label="Signed by" autoComplete="off" maxLength={120} {...form.field("signer")} />
        <DayField label="On" max={today} {...form.field("signedOn")} />
      </div>
      <RadioGroup
        label="Where it was signed"
        options={SIGNING_PLACES.map((value) => ({ value, ...PLACES[value] }))}
        {...form.field("signedAt")}
      />
      <div className="notice">
        <p>The right to cancel</p>
        <p>
          A sale signed away from your own place of business may be cancelled until midnight of the third
          business day after signing (16 CFR 429). Saturdays count; Sundays and federal holidays do not. Until
          then no crew can be booked. State law may give longer: check local law.
        </p>
      </div>
      <Sha of={quote.documentSha256} />
      <FormActions form={form} submit="Record the signature" cancel={onClose} />
    </Form>
  );
}

export const Sha = ({ of }: { of: string }) => (
  <p className="job-sha">
    <small className="quiet">Document SHA-256</small> <code>{of}</code>
  </p>
);

export function DeclineDialog({ job, id, onClose }: Asking) {
  const decline = useAct(api.declineQuote, { done: "It is on record." });
  const quote = job.quotes.find((one) => (id ? one.id === id : one.state === "open"));
  if (!quote) return null;
  return (
    <ReasonDialog
      title={`The customer said no to ${quote.number}`}
      open
      onClose={onClose}
      confirm="Record the no"
      alarm
      hint="What the customer gave as the reason."
      onReason={(why) => decline.send({ params: { quoteId: quote.id }, body: { why } })}
    >
      <p>The quote for {money(quote.price)} can then no longer be signed. The job stays open.</p>
    </ReasonDialog>
  );
}
