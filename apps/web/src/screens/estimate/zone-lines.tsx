import type { Finding } from "@ledgerboard/contracts/assessment";
import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import type { Zone } from "@ledgerboard/contracts/jobs";
import { Link } from "@tanstack/react-router";
import { money, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { useEstimate } from "./context.ts";
import { Coverage } from "./coverage.tsx";
import { LineRow } from "./line-row.tsx";
import { NewLine } from "./new-line.tsx";
import type { Places } from "./plausible.ts";
import type { Sheet } from "./prices.ts";
import { Remarks } from "./remarks.tsx";
import { comingId } from "./use-new-line.ts";

interface Props {
  zone: Zone;
  lines: readonly ScopeLine[];
  sheet: Sheet;
  /** The same, a moment behind the typing. */
  later: Sheet;
  places: Places;
}

const feet = (value: string | null) => value && `${value} ft`;

/** The lines of one zone, what they come to, a place for the next, and what is there beside what is done to it. */
export function ZoneLines({ zone, lines, sheet, later, places }: Props) {
  const { job, desk, editable, openId } = useEstimate();
  const size = [feet(zone.lengthFt), feet(zone.widthFt)].filter(Boolean).join(" × ");
  const told = [
    size || words(zone.kind),
    size && words(zone.evidence),
    zone.heightFt && `${zone.heightFt} ft high`,
  ];
  const sum = lines.reduce((cents, { id }) => {
    const priced = sheet.priced.get(id);
    return cents + (priced?.standing === "base" ? priced.price.priceCents : 0);
  }, 0);
  const own = [...later.priced.values()].flatMap(({ line }) => (line.zoneId === zone.id ? line : []));
  const findings: readonly Finding[] = places.zone(zone.id);
  return (
    <Section
      id={`zone-${zone.id}`}
      title={zone.name}
      className="est-zone"
      note={
        <>
          {told.filter(Boolean).join(", ")}
          <span className="no-print"> · </span>
          <Link
            className="no-print"
            to="/jobs/$jobId/zones/$zoneId"
            params={{ jobId: job.id, zoneId: zone.id }}
            aria-label={`Measures of ${zone.name}`}
          >
            {zone.geometry ? "measures" : "draw it"}
          </Link>
        </>
      }
      acts={<b className="est-zone-sum num">{money(sum)}</b>}
    >
      <Remarks findings={findings} label={`Remarks on ${zone.name}`} />
      {lines.length === 0 ? (
        <p className="quiet est-none">No line yet.</p>
      ) : (
        <ul className="plain est-lines">
          {lines.map((line) => (
            <LineRow
              key={line.id}
              line={line}
              draft={desk.draft(line.id)}
              saved={desk.isSaved(line.id)}
              priced={sheet.priced.get(line.id) ?? null}
              findings={places.line(line.lineageId)}
              open={openId === line.id}
            />
          ))}
        </ul>
      )}
      {editable && <NewLine zone={zone} findings={places.line(comingId(zone.id))} />}
      <Coverage zone={zone} lines={own} />
    </Section>
  );
}
