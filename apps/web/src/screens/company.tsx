import { useQuery } from "@tanstack/react-query";
import { q } from "../api/queries.ts";
import { useMay, useSession } from "../app/session.ts";
import { Page } from "../ui/page.tsx";
import { Section } from "../ui/section.tsx";
import { Loaded } from "../ui/states.tsx";
import { whoMay } from "../ui/who-may.ts";
import { Policies } from "./company/policies.tsx";
import { ProfileFacts, ProfileForm } from "./company/profile.tsx";

/** What papers and rules are made from: the company's own particulars and its policies. */
export default function Company() {
  const may = useMay();
  const { company: own } = useSession();
  const profile = useQuery(q.company());
  return (
    <Page title="Company profile" lead="What stands on quotes, and the rules the company holds itself to.">
      <Loaded query={profile}>
        {(company) => (
          <>
            <Section title="Profile">
              {may("company.edit") ? (
                <ProfileForm company={company} />
              ) : (
                <>
                  <ProfileFacts company={company} />
                  <p className="quiet">The {whoMay("company.edit")} may change this.</p>
                </>
              )}
            </Section>
            <Section title="Deposit rule of the state" note={company.state}>
              <p>{company.depositRule.rule}</p>
              <p className="quiet">
                <small>
                  {company.depositRule.source}, as of {company.depositRule.asOf}.{" "}
                  {company.depositRule.unsure && "This entry is not certain. "}
                  Check local law; this is not legal advice.
                </small>
              </p>
            </Section>
            <Section title="Inquiry form">
              <p>
                Customers can ask for work at{" "}
                <a href={`/ask/${own.slug}`} target="_blank" rel="noreferrer">
                  {`${location.origin}/ask/${own.slug}`}
                </a>
                . What they send appears on the waiting list at once.
              </p>
            </Section>
            <Policies />
          </>
        )}
      </Loaded>
    </Page>
  );
}
