import { useSession } from "../../app/session.ts";
import { moment, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { useJob } from "./asking.ts";

/** The inquiry in the customer's own words. */
export function SaidPart() {
  const { lead } = useJob().job;
  const { company } = useSession();
  return (
    <Section
      id="said"
      title="What the customer said"
      note={lead && `${sentence(words(lead.source))}, ${moment(lead.receivedAt, company.timezone)}`}
    >
      {lead?.words ? (
        <blockquote className="job-said">{lead.words}</blockquote>
      ) : (
        <p className="quiet">Nothing was written down when the inquiry came in.</p>
      )}
    </Section>
  );
}
