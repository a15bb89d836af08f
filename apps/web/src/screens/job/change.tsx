import { Link } from "@tanstack/react-router";
import { useMay } from "../../app/session.ts";
import { moneyChange } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { WaiveDialog } from "../waive-dialog.tsx";
import { Act } from "./act.tsx";
import { type Asking, useJob } from "./asking.ts";

/** What the site review changed, where the company's policy calls that material. */
export function ChangePart() {
  const { variance, id: jobId } = useJob().job;
  const may = useMay();
  if (!variance?.material) return null;
  const { open, waivedWhy, words, delta } = variance;
  return (
    <Section id="change" title="Material change" className={open ? "job-change open" : "job-change"}>
      <p>
        The site review moved the price by <b className="nowrap">{moneyChange(delta)}</b>.{" "}
        {open
          ? "It waits for the customer to sign the changed quote, or for the owner to waive it."
          : waivedWhy
            ? `The owner let it pass without a new signature: ${waivedWhy}`
            : "It is settled: the customer signed the changed quote."}
      </p>
      <ul>
        {words.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      <div className="row no-print">
        {may("estimates.read") && (
          <Link to="/jobs/$jobId/compare" params={{ jobId }}>
            See every change
          </Link>
        )}
        {open && <Act name="waive_variance" id={variance.id} small />}
      </div>
    </Section>
  );
}

export const WaiveChangeDialog = ({ job: { variance }, onClose }: Asking) =>
  variance && <WaiveDialog varianceId={variance.id} delta={variance.delta} onClose={onClose} />;
