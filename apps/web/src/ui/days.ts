/** The first days of the months that begin after `from` and not after `to`. */
export function monthStarts(from: string, to: string): string[] {
  const starts: string[] = [];
  let [year = 0, month = 1] = from.split("-").map(Number);
  for (;;) {
    month += 1;
    if (month > 12) [year, month] = [year + 1, 1];
    const first = `${year}-${String(month).padStart(2, "0")}-01`;
    if (first > to) return starts;
    starts.push(first);
  }
}
