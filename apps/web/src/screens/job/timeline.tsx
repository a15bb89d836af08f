import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../../api/queries.ts";
import { useSession } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { moment } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { ErrorState, Loading } from "../../ui/states.tsx";
import { useJob } from "./asking.ts";

const PAGE_SIZE = "20";

/** What happened to the job, newest first. */
export function TimelinePart() {
  const [pages, setPages] = useState(1);
  return (
    <Section id="timeline" title="Timeline" className="job-timeline">
      <ol className="plain">
        <TimelinePage after={undefined} left={pages} onMore={() => setPages(pages + 1)} />
      </ol>
    </Section>
  );
}

/**
 * One page and, below it, the next: each page begins where the one above really ends, so that nothing is
 * lost or told twice when something new comes in at the top.
 */
function TimelinePage({
  after,
  left,
  onMore,
}: {
  after: string | undefined;
  left: number;
  onMore: () => void;
}) {
  const { job } = useJob();
  const { company } = useSession();
  const query = { limit: PAGE_SIZE, ...(after !== undefined && { after }) };
  const page = useQuery({ ...q.timeline(job.id, query), placeholderData: keepPreviousData });
  if (!page.data)
    return (
      <li>
        {page.error ? (
          <ErrorState error={page.error} onRetry={() => void page.refetch()} />
        ) : (
          <Loading rows={4} />
        )}
      </li>
    );
  const { items, next } = page.data;
  return (
    <>
      {items.map((entry) => (
        <li key={entry.id} className="job-told">
          <time dateTime={entry.at} className="quiet">
            {moment(entry.at, company.timezone)}
          </time>
          <span className="kept-lines">{entry.words}</span>
          <span className="quiet">{entry.by}</span>
        </li>
      ))}
      {next !== null &&
        (left > 1 ? (
          <TimelinePage after={next} left={left - 1} onMore={onMore} />
        ) : (
          <li className="no-print">
            <Button small onPress={onMore}>
              Show older
            </Button>
          </li>
        ))}
    </>
  );
}
