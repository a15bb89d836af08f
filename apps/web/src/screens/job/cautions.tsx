import { Section } from "../../ui/section.tsx";
import { useJob } from "./asking.ts";

/** What to beware of at this property. */
export function CautionsPart() {
  const { cautions } = useJob().job;
  if (cautions.length === 0) return null;
  return (
    <Section id="cautions" title="Cautions">
      <ul className="plain entries">
        {cautions.map((caution) => (
          <li key={caution.id} className="entry job-caution">
            <p>{caution.words}</p>
            <small className="quiet">
              {caution.defer} Source: {caution.source}
            </small>
          </li>
        ))}
      </ul>
    </Section>
  );
}
