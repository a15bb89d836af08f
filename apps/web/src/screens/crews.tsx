import "./crews.css";
import { addDays, isDate, weekday } from "@ledgerboard/contracts/dates";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../api/queries.ts";
import { useSearchText } from "../app/search.ts";
import { useMay, useSession } from "../app/session.ts";
import { Button } from "../ui/button.tsx";
import { Segment } from "../ui/choices.tsx";
import { dayInWords } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { EmptyState, Loaded } from "../ui/states.tsx";
import { BookingDialog } from "./crews/booking-dialog.tsx";
import { Closures } from "./crews/closures.tsx";
import { CrewDialog, CrewTable } from "./crews/crew-table.tsx";
import { Ready } from "./crews/ready.tsx";
import { type Booking, SheetGrid } from "./crews/sheet-grid.tsx";

const SPANS = ["7", "14", "28"] as const;
type Span = (typeof SPANS)[number];
const SPAN_WORDS: Record<Span, string> = { "7": "1 week", "14": "2 weeks", "28": "4 weeks" };
const NARROW = "(max-width: 800px)";

const monday = (day: string): string => addDays(day, 1 - weekday(day));

/** Crews down, days across: who works where, and what still stands in the way. */
export default function Crews() {
  const { today } = useSession();
  const may = useMay();
  const [search, setSearch] = useSearchText();
  const narrow = matchMedia(NARROW).matches;
  const span = SPANS.find((one) => one === search.days) ?? (narrow ? "7" : "14");
  const from = search.from && isDate(search.from) ? search.from : monday(today);
  const sheet = useQuery({ ...q.crewSheet({ from, days: span }), placeholderData: (before) => before });
  const [booking, setBooking] = useState<Booking | null>(null);
  const [forming, setForming] = useState(false);
  const go = (days: number) => setSearch({ from: addDays(from, days) });
  return (
    <Page
      title="Crew sheet"
      lead="Hatching is a hold: work may not start until what it names is settled."
      actions={may("crews.edit") && <Button onPress={() => setForming(true)}>Form a crew</Button>}
    >
      <div className="sheet-tools no-print">
        <div className="row">
          <Button small onPress={() => go(-Number(span))}>
            Earlier
          </Button>
          <Button small isDisabled={from === monday(today)} onPress={() => setSearch({ from: undefined })}>
            This week
          </Button>
          <Button small onPress={() => go(Number(span))}>
            Later
          </Button>
        </div>
        <Segment
          label="How much to show"
          options={SPANS.map((value) => ({ value, label: SPAN_WORDS[value] }))}
          value={span}
          onChange={(days) => setSearch({ days })}
        />
      </div>
      <Loaded query={sheet} rows={10}>
        {(data) =>
          data.crews.length === 0 ? (
            <EmptyState
              title="No crews yet"
              actions={may("crews.edit") && <Button onPress={() => setForming(true)}>Form a crew</Button>}
            >
              A crew is the people who go to a job together. Form one, then place jobs on its days.
            </EmptyState>
          ) : (
            <>
              <p className="sr" role="status">
                From {dayInWords(from)}, {SPAN_WORDS[span]}
              </p>
              <SheetGrid sheet={data} today={today} onBooking={setBooking} />
              <Ready ready={data.ready} today={today} />
              <Closures closures={data.closures} crews={data.crews} />
              <CrewTable crews={data.crews} />
            </>
          )
        }
      </Loaded>
      {booking && <BookingDialog booking={booking} onClose={() => setBooking(null)} />}
      {forming && <CrewDialog onClose={() => setForming(false)} />}
    </Page>
  );
}
