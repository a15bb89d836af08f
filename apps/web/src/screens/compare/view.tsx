import type { Comparison } from "@ledgerboard/contracts/estimates";
import type { Job } from "@ledgerboard/contracts/jobs";
import { Link } from "@tanstack/react-router";
import { money, moneyChange, percent, sentence } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { Section } from "../../ui/section.tsx";
import { Bridge } from "./bridge.tsx";
import { Changes } from "./changes.tsx";
import { Choose } from "./choose.tsx";
import { boardsOf } from "./spans.ts";
import { hoursChange, sideNames, stepNote } from "./tell.ts";
import { Verdict } from "./verdict.tsx";

/** What one revision changed in another: the sentence, the bridge, the lines. */
export function ComparisonView({ job, comparison }: { job: Job; comparison: Comparison }) {
  const { from, to, bridge, changes, material, delta, deltaHours } = comparison;
  const [fromName, toName] = sideNames(comparison);
  const side = ({ price, number }: Comparison["from"], name: string) => ({
    name,
    cents: price.cents,
    note: `revision ${number}`,
  });
  const { boards, still } = boardsOf(side(from, fromName), side(to, toName), bridge, (step) =>
    stepNote(step, changes),
  );
  return (
    <Page
      title={`What changed, ${job.number}`}
      over={
        <Link to="/jobs/$jobId" params={{ jobId: job.id }}>
          {job.number} {job.customerName}
        </Link>
      }
      heading={headline(comparison)}
      lead={
        <>
          {sentence(fromName)} {money(from.price)}, {toName} {money(to.price)}:{" "}
          <span className="nowrap">{moneyChange(delta)}</span> and{" "}
          <span className="nowrap">{hoursChange(deltaHours)}</span> of labor.{" "}
          {material ? "That is a material change." : "Not a material change."}
        </>
      }
    >
      <Verdict job={job} comparison={comparison} />
      <Section title="The way from one price to the other" className="cmp-bridge">
        <Bridge boards={boards} still={still} />
        <Choose job={job} from={from} to={to} />
      </Section>
      <Section title="Line by line">
        <Changes changes={changes} from={fromName} to={toName} />
      </Section>
    </Page>
  );
}

/** "The site review took $2,310 off, 19.4% of the price." */
function headline(comparison: Comparison): string {
  const { from, delta } = comparison;
  const [, to] = sideNames(comparison);
  if (delta.cents === 0) return `The ${to} leaves the price as it was`;
  const size = Math.abs(delta.cents);
  const share = from.price.cents > 0 ? `, ${percent(tenths(size, from.price.cents))}` : "";
  return `The ${to} ${delta.cents < 0 ? `takes ${money(size)} off` : `adds ${money(size)}`}${share}`;
}

/** A share in basis points, rounded to a tenth of a percent. */
const tenths = (part: number, whole: number): number => Math.round((part * 1000) / whole) * 10;
