import type { Comparison } from "@ledgerboard/contracts/estimates";
import type { Job } from "@ledgerboard/contracts/jobs";
import { useState } from "react";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { longDay } from "../../ui/format.ts";
import { whoMay } from "../../ui/who-may.ts";
import { WaiveDialog } from "../waive-dialog.tsx";

/** What the company's policy says of the change, with its figures; what it did not mind stands quietly below. */
export function Verdict({ job, comparison }: { job: Job; comparison: Comparison }) {
  const { material, rules, policyFrom, varianceId, open } = comparison;
  const [waiving, setWaiving] = useState(false);
  const fired = rules.filter((rule) => rule.fired);
  const others = rules.filter((rule) => !rule.fired);
  return (
    <section className={material ? "cmp-verdict material" : "cmp-verdict"} aria-label="What the policy says">
      <div>
        {fired.length > 0 && (
          <ul className="plain cmp-fired">
            {fired.map((rule) => (
              <li key={rule.rule}>{rule.words}</li>
            ))}
          </ul>
        )}
        {others.length > 0 && (
          <p className="quiet cmp-others">
            <small>
              {fired.length > 0 ? "Not decisive" : "Nothing decisive"}:{" "}
              {others.map((rule) => rule.words).join(" ")}
            </small>
          </p>
        )}
        <p className="quiet">
          <small>By the company's policy from {longDay(policyFrom)}.</small>
        </p>
      </div>
      <div>
        <State job={job} comparison={comparison} />
        {open && varianceId && <Waive job={job} onAsk={() => setWaiving(true)} />}
      </div>
      {waiving && varianceId && (
        <WaiveDialog varianceId={varianceId} delta={comparison.delta} onClose={() => setWaiving(false)} />
      )}
    </section>
  );
}

/** Where the change stands: with the customer, signed, let pass, or without weight. */
function State({ job, comparison }: { job: Job; comparison: Comparison }) {
  const { material, open, waivedWhy, varianceId, to } = comparison;
  const signed = job.quotes.find((quote) => quote.revisionId === to.id && quote.state === "accepted");
  const out = job.quotes.find((quote) => quote.revisionId === to.id && quote.state === "open");
  const draft = job.revisions.some(({ id, state }) => id === to.id && state === "draft");
  if (draft)
    return (
      <p className="cmp-state">The newer one is still a draft: nothing follows from it until it is issued.</p>
    );
  if (!varianceId)
    return (
      <p className="cmp-state">
        For looking only: nothing was decided between these two. What counts is a review against what it was
        copied from.
      </p>
    );
  if (!material) return <p className="cmp-state done">Small enough: nobody has to agree to it.</p>;
  if (waivedWhy) return <p className="cmp-state done">Waived by the owner: {waivedWhy}</p>;
  if (open)
    return (
      <p className="cmp-state open">
        Open:{" "}
        {out
          ? `the customer is asked to sign ${out.number}.`
          : "the customer has to be sent a quote on the changed scope and sign it, or the owner lets it pass."}
      </p>
    );
  if (signed)
    return (
      <p className="cmp-state done">
        Signed: {signed.signer} signed {signed.number}
        {signed.signedOn && ` on ${longDay(signed.signedOn)}`}.
      </p>
    );
  return <p className="cmp-state done">Settled: a later quote or review has taken its place.</p>;
}

function Waive({ job, onAsk }: { job: Job; onAsk: () => void }) {
  const may = useMay();
  const act = job.acts.waive_variance;
  if (!may("variances.waive"))
    return <p className="quiet no-print">Waive the change: {whoMay("variances.waive")} may.</p>;
  return (
    <div className="row no-print">
      <Button isDisabled={!act?.allowed} onPress={onAsk}>
        Waive the change
      </Button>
      {act?.why && <small className="quiet">{act.why}</small>}
    </div>
  );
}
