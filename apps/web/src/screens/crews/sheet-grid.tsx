import type { getCrewSheet, SheetBooking } from "@ledgerboard/contracts/crews";
import { daysBetween } from "@ledgerboard/contracts/dates";
import { Fragment } from "react";
import { Button as AriaButton } from "react-aria-components/Button";
import type { Output } from "../../api/wire.ts";
import { day, dayRange, hours, plural, weekdayAndDate, words } from "../../ui/format.ts";

export type Sheet = Output<typeof getCrewSheet>;
export type Booking = SheetBooking;

const shortNumber = (number: string): string => number.replace(/^[A-Z]+-/, "");

/** What a booking says to somebody who cannot see where it lies. */
function spoken(booking: Booking, crew: string): string {
  const holds = booking.holds.map((one) => one.why).join("; ");
  return [
    `${booking.number}, ${booking.customerName}, ${booking.city}: ${booking.title}`,
    `${crew}, ${dayRange(booking.startOn, booking.endOn)}, ${plural(booking.crewDays, "crew day")}`,
    booking.state === "booked" ? null : words(booking.state),
    holds && `on hold: ${holds}`,
  ]
    .filter(Boolean)
    .join(". ");
}

function Plank({
  booking,
  crew,
  sheet,
  row,
  onPress,
}: {
  booking: Booking;
  crew: string;
  sheet: Sheet;
  row: number;
  onPress: () => void;
}) {
  const last = sheet.days.length - 1;
  const start = Math.max(0, daysBetween(sheet.from, booking.startOn));
  const end = Math.min(last, daysBetween(sheet.from, booking.endOn));
  const held = booking.holds.length > 0 && booking.state === "booked";
  const state = held
    ? "held"
    : booking.state === "finished"
      ? "over"
      : booking.state === "under_way"
        ? "going"
        : "";
  return (
    <AriaButton
      className={`sheet-booking ${state}`}
      style={{ gridRow: row, gridColumn: `${start + 2} / ${end + 3}` }}
      aria-label={spoken(booking, crew)}
      onPress={onPress}
    >
      <b>
        {shortNumber(booking.number)} {booking.city}
      </b>
      <small>
        {held
          ? `hold: ${booking.holds.map((one) => words(one.hold)).join(", ")}`
          : booking.state === "booked"
            ? `${booking.title} · ${hours(booking.hours)}`
            : `${words(booking.state)} · ${booking.title}`}
      </small>
    </AriaButton>
  );
}

/** The picture: one row a crew, one column a day, a booking across the days it takes. */
export function SheetGrid({
  sheet,
  today,
  onBooking,
}: {
  sheet: Sheet;
  today: string;
  onBooking: (booking: Booking) => void;
}) {
  const crews = sheet.crews.filter(
    (crew) => crew.active || sheet.bookings.some((booking) => booking.crewId === crew.id),
  );
  /** Why nobody works on a day: said once, above the column. */
  const everybody = (on: string) => sheet.closures.find((one) => one.on === on && one.crewId === null)?.why;
  const closed = (crewId: string, on: string) =>
    sheet.closures.find((one) => one.on === on && (one.crewId === null || one.crewId === crewId));
  return (
    <div className="sheet">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section className="sheet-scroll" tabIndex={0} aria-label="Crew sheet, scrolls sideways">
        <div
          className="sheet-grid"
          style={{ gridTemplateColumns: `var(--crew) repeat(${sheet.days.length}, var(--day))` }}
        >
          <div className="sheet-corner" style={{ gridRow: 1, gridColumn: 1 }} />
          {sheet.days.map((one, at) => (
            <div
              key={one.on}
              className={`sheet-day${one.on === today ? " now" : ""}${one.weekday > 5 || everybody(one.on) ? " off" : ""}`}
              style={{ gridRow: 1, gridColumn: at + 2 }}
            >
              {at === 0 || one.on.endsWith("-01") ? <b>{day(one.on)}</b> : null}
              <span>{weekdayAndDate(one.on)}</span>
              {everybody(one.on) && <small title={everybody(one.on)}>{everybody(one.on)}</small>}
            </div>
          ))}
          {crews.map((crew, index) => {
            const row = index + 2;
            const mine = sheet.bookings.filter((booking) => booking.crewId === crew.id);
            return (
              <Fragment key={crew.id}>
                <div className="sheet-crew" style={{ gridRow: row, gridColumn: 1 }}>
                  <b>{crew.name}</b>
                  <small className="quiet">
                    {plural(crew.size, "person", "people")}
                    {crew.skills.length > 0 && (
                      <span className="sheet-skills"> · {crew.skills.join(", ")}</span>
                    )}
                  </small>
                </div>
                {sheet.days.map((one, at) => {
                  const why = closed(crew.id, one.on)?.why;
                  const off = !crew.weekdays.includes(one.weekday) || why !== undefined;
                  return (
                    <div
                      key={one.on}
                      className={`sheet-cell${off ? " off" : ""}${one.on === today ? " now" : ""}`}
                      style={{ gridRow: row, gridColumn: at + 2 }}
                      title={why}
                    >
                      {why && why !== everybody(one.on) && <small className="quiet">{why}</small>}
                    </div>
                  );
                })}
                {mine.map((booking) => (
                  <Plank
                    key={booking.id}
                    booking={booking}
                    crew={crew.name}
                    sheet={sheet}
                    row={row}
                    onPress={() => onBooking(booking)}
                  />
                ))}
              </Fragment>
            );
          })}
        </div>
      </section>
    </div>
  );
}
