import { daysBetween } from "@ledgerboard/contracts/dates";
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { useState } from "react";
import { q } from "../../api/queries.ts";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { day, hours, plural, sentence } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Table } from "../../ui/table.tsx";
import { BookDialog } from "../job/booking-dialogs.tsx";
import type { Sheet } from "./sheet-grid.tsx";

/** Jobs a crew could take now: signed, paid up, the right to cancel run out, nothing unsettled. */
export function Ready({ ready, today }: { ready: Sheet["ready"]; today: string }) {
  const may = useMay();
  const [placing, setPlacing] = useState<string | null>(null);
  const job = useQuery({ ...q.job(placing ?? ""), enabled: placing !== null }).data;
  return (
    <Section
      title="Ready to place"
      note={ready.length > 0 ? plural(ready.length, "job") : undefined}
      className="sheet-ready"
    >
      {ready.length === 0 ? (
        <p className="quiet">
          Nothing waits for a crew. A job is ready once it is signed, its deposit is in and the right to
          cancel has run out.
        </p>
      ) : (
        <Table
          caption="Jobs ready to place"
          rows={ready}
          rowKey={(row) => row.jobId}
          columns={[
            {
              title: "Job",
              cell: (row) => (
                <Link to="/jobs/$jobId" params={{ jobId: row.jobId }}>
                  {row.number} {row.customerName}
                </Link>
              ),
            },
            { title: "Work", cell: (row) => `${sentence(row.title)}, ${row.city}` },
            {
              title: "Promised to",
              cell: (row) =>
                row.promisedTo === null ? (
                  <span className="quiet">nothing promised</span>
                ) : (
                  <>
                    {day(row.promisedTo, today)}{" "}
                    {row.promisedTo < today && (
                      <Flag alarm>{plural(daysBetween(row.promisedTo, today), "day")} late</Flag>
                    )}
                  </>
                ),
            },
            { title: "Labor", num: true, cell: (row) => hours(row.hours) },
            ...(may("bookings.edit")
              ? [
                  {
                    title: "Place",
                    silent: true,
                    num: true,
                    cell: (row: Sheet["ready"][number]) => (
                      <Button
                        small
                        busy={placing === row.jobId && !job}
                        onPress={() => setPlacing(row.jobId)}
                      >
                        Place a crew
                      </Button>
                    ),
                  },
                ]
              : []),
          ]}
        />
      )}
      {placing && job && <BookDialog job={job} id={undefined} onClose={() => setPlacing(null)} />}
    </Section>
  );
}
