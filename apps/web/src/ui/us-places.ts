/** States and the district by their postal codes. */
export const STATES: readonly { value: string; label: string }[] = (
  "AL Alabama,AK Alaska,AZ Arizona,AR Arkansas,CA California,CO Colorado,CT Connecticut,DE Delaware," +
  "DC District of Columbia,FL Florida,GA Georgia,HI Hawaii,ID Idaho,IL Illinois,IN Indiana,IA Iowa,KS Kansas," +
  "KY Kentucky,LA Louisiana,ME Maine,MD Maryland,MA Massachusetts,MI Michigan,MN Minnesota,MS Mississippi," +
  "MO Missouri,MT Montana,NE Nebraska,NV Nevada,NH New Hampshire,NJ New Jersey,NM New Mexico,NY New York," +
  "NC North Carolina,ND North Dakota,OH Ohio,OK Oklahoma,OR Oregon,PA Pennsylvania,RI Rhode Island," +
  "SC South Carolina,SD South Dakota,TN Tennessee,TX Texas,UT Utah,VT Vermont,VA Virginia,WA Washington," +
  "WV West Virginia,WI Wisconsin,WY Wyoming"
)
  .split(",")
  .map((entry) => ({ value: entry.slice(0, 2), label: entry.slice(3) }));

/** Time zones a company may keep its days in. */
export const TIME_ZONES: readonly { value: string; label: string }[] = [
  { value: "America/New_York", label: "Eastern" },
  { value: "America/Chicago", label: "Central" },
  { value: "America/Denver", label: "Mountain" },
  { value: "America/Phoenix", label: "Mountain, no summer time" },
  { value: "America/Los_Angeles", label: "Pacific" },
  { value: "America/Anchorage", label: "Alaska" },
  { value: "Pacific/Honolulu", label: "Hawaii" },
];

/** The zone of this device when it is one of those, else Eastern. */
export function likelyTimeZone(): string {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  return TIME_ZONES.some((zone) => zone.value === here) ? here : "America/New_York";
}
