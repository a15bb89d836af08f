import { useMay } from "../../app/session.ts";
import { useJob } from "./asking.ts";

const PARTS = [
  ["said", "Said"],
  ["contact", "Contact"],
  ["property", "Property"],
  ["visits", "Visits"],
  ["zones", "Zones"],
  ["advisories", "Advisories"],
  ["seen", "Seen"],
  ["change", "Change"],
  ["estimate", "Estimate"],
  ["quotes", "Quotes"],
  ["deposit", "Money"],
  ["booking", "Crew"],
  ["cautions", "Cautions"],
  ["promise", "Promise"],
  ["timeline", "Timeline"],
] as const;

/** On a phone the page is long: its parts by name, always at hand. */
export function Jump() {
  const { job } = useJob();
  const may = useMay();
  const there = ([id]: (typeof PARTS)[number]) =>
    (id !== "change" || job.variance?.material) &&
    (id !== "cautions" || job.cautions.length > 0) &&
    (id !== "deposit" || may("money.read"));
  return (
    <nav className="job-jump no-print" aria-label="Parts of this page">
      {PARTS.filter(there).map(([id, label]) => (
        <a key={id} href={`#${id}`}>
          {label}
        </a>
      ))}
    </nav>
  );
}
