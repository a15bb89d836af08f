import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../../api/queries.ts";
import { useMay } from "../../app/session.ts";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { dayRange, hours, plural, words } from "../../ui/format.ts";
import { Loaded } from "../../ui/states.tsx";
import {
  CancelBookingDialog,
  FinishWorkDialog,
  MoveBookingDialog,
  StartWorkDialog,
} from "../job/booking-dialogs.tsx";
import type { Booking } from "./sheet-grid.tsx";

const ACTS = [
  { act: "start_work", label: "Work has started", needs: "bookings.run", main: true },
  { act: "finish_work", label: "Work is finished", needs: "bookings.run", main: true },
  { act: "move_booking", label: "Move", needs: "bookings.edit", main: false },
  { act: "cancel_booking", label: "Cancel the booking", needs: "bookings.edit", main: false },
] as const;
type Act = (typeof ACTS)[number]["act"];

const DIALOGS = {
  start_work: StartWorkDialog,
  finish_work: FinishWorkDialog,
  move_booking: MoveBookingDialog,
  cancel_booking: CancelBookingDialog,
};

/** One booking of the sheet: what it is, what holds it, and what may be done with it. */
export function BookingDialog({ booking, onClose }: { booking: Booking; onClose: () => void }) {
  const may = useMay();
  const job = useQuery(q.job(booking.jobId));
  const [act, setAct] = useState<Act | null>(null);
  if (act && job.data) {
    const Next = DIALOGS[act];
    return <Next job={job.data} id={undefined} onClose={onClose} />;
  }
  return (
    <Dialog title={`${booking.number} ${booking.customerName}`} open onClose={onClose}>
      <p>
        {booking.title}, {booking.city}
      </p>
      <dl className="facts">
        <dt>Days</dt>
        <dd>
          {dayRange(booking.startOn, booking.endOn)}, {plural(booking.crewDays, "crew day")}
        </dd>
        <dt>Labor</dt>
        <dd>{hours(booking.hours)} estimated</dd>
        <dt>State</dt>
        <dd>{words(booking.state)}</dd>
      </dl>
      {booking.holds.length > 0 && (
        <div className="notice alarm">
          <p>On hold</p>
          <ul>
            {booking.holds.map((one) => (
              <li key={one.hold}>{one.why}</li>
            ))}
          </ul>
        </div>
      )}
      <Loaded query={job} rows={2}>
        {(data) => (
          <>
            <div className="row">
              {ACTS.filter((one) => may(one.needs) && data.acts[one.act]?.allowed).map((one) => (
                <Button key={one.act} kind={one.main ? "main" : undefined} onPress={() => setAct(one.act)}>
                  {one.label}
                </Button>
              ))}
              <ButtonLink to="/jobs/$jobId" params={{ jobId: booking.jobId }} kind="text">
                Open the job
              </ButtonLink>
            </div>
            {booking.state === "booked" && data.acts.start_work?.why && (
              <p className="quiet">Cannot start yet. {data.acts.start_work.why}</p>
            )}
          </>
        )}
      </Loaded>
    </Dialog>
  );
}
