import { Link } from "@tanstack/react-router";
import { useSession } from "../../app/session.ts";
import { Flag } from "../../ui/flag.tsx";
import { hours, longDay, plural, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Act } from "./act.tsx";
import { useJob } from "./asking.ts";

/** Which crew comes when, and how the work went. */
export function BookingPart() {
  const { job } = useJob();
  const { today } = useSession();
  const { booking, promised } = job;
  if (!booking)
    return (
      <Section id="booking" title="Crew">
        <p className="quiet">No crew is booked.</p>
        <div className="row no-print">
          <Act name="book_crew" small />
        </div>
      </Section>
    );
  const beyond = booking.state === "booked" && promised && booking.startOn > promised.to;
  const missed = booking.state === "booked" && booking.startOn < today;
  const estimated = job.revisions.findLast(({ state }) => state === "issued")?.hours;
  return (
    <Section id="booking" title="Crew">
      <p className="job-crew">
        <Link to="/crews" search={{ from: booking.startOn }}>
          {booking.crewName}
        </Link>{" "}
        <Flag>{words(booking.state)}</Flag> {missed && <Flag alarm>start day passed</Flag>}
        {beyond && <Flag alarm>after the promised window</Flag>}
      </p>
      <dl className="facts">
        <dt>From</dt>
        <dd>{longDay(booking.startOn)}</dd>
        <dt>To</dt>
        <dd>
          {longDay(booking.endOn)}, {plural(booking.crewDays, "crew day")}
        </dd>
        {estimated && (
          <>
            <dt>Estimated</dt>
            <dd>{hours(estimated)}</dd>
          </>
        )}
        {booking.actualHours && (
          <>
            <dt>Really took</dt>
            <dd>
              <b>{hours(booking.actualHours)}</b>
            </dd>
          </>
        )}
      </dl>
      {booking.state !== "finished" && (
        <div className="row no-print">
          {booking.state === "booked" ? (
            <>
              <Act name="start_work" small />
              <Act name="move_booking" small />
              <Act name="cancel_booking" small kind="text" />
            </>
          ) : (
            <Act name="finish_work" small />
          )}
        </div>
      )}
    </Section>
  );
}
