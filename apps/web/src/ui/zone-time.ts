/** Instants as the clock of a place shows them, for fields of day and time. */

const SHOWN = ["year", "month", "day", "hour", "minute"] as const;

/** "2026-11-30T14:00:00Z" in New York -> "2026-11-30T09:00". */
export function toLocal(instant: string, timeZone: string): string {
  const parts = new Intl.DateTimeFormat("en-CA", {
    timeZone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
  }).formatToParts(new Date(instant));
  const [year, month, day, hour, minute] = SHOWN.map((type) => parts.find((p) => p.type === type)?.value);
  return `${year}-${month}-${day}T${hour}:${minute}`;
}

/**
 * The inverse. A time the clock skips in spring is taken as the one an hour later; of one it shows twice in
 * autumn the first is meant. Null when the text is not a day and time.
 */
export function toInstant(local: string, timeZone: string): string | null {
  const wanted = Date.parse(`${local}:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(local) || Number.isNaN(wanted)) return null;
  const offset = (at: number) => Date.parse(`${toLocal(new Date(at).toISOString(), timeZone)}:00Z`) - at;
  const HALF_DAY = 43_200_000;
  // The offsets on both sides of a change of the clock; without one they are the same.
  const [before, after] = [offset(wanted - HALF_DAY), offset(wanted + HALF_DAY)];
  const first = wanted - before;
  const holds = first + offset(first) === wanted || wanted - after + offset(wanted - after) !== wanted;
  return new Date(holds ? first : wanted - after).toISOString();
}
