import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import type { Zone } from "@ledgerboard/contracts/jobs";
import { money, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { useEstimate } from "./context.ts";
import { LineRow } from "./line-row.tsx";
import { NewLine } from "./new-line.tsx";
import type { Priced } from "./prices.ts";

export interface ShownLine {
  line: ScopeLine;
  priced: Priced;
}

const feet = (value: string | null) => value && `${value} ft`;

/** The lines of one zone, what they come to, and a place for the next. */
export function ZoneLines({ zone, lines }: { zone: Zone; lines: readonly ShownLine[] }) {
  const { desk, editable, openId } = useEstimate();
  const size = [feet(zone.lengthFt), feet(zone.widthFt)].filter(Boolean).join(" × ");
  const sum = lines.reduce((cents, { priced }) => cents + (priced.price?.priceCents ?? 0), 0);
  return (
    <Section
      title={zone.name}
      className="est-zone"
      note={[
        size || words(zone.kind),
        size && words(zone.evidence),
        zone.heightFt && `${zone.heightFt} ft high`,
      ]
        .filter(Boolean)
        .join(", ")}
      acts={<b className="est-zone-sum num">{money(sum)}</b>}
    >
      {lines.length === 0 ? (
        <p className="quiet est-none">No line yet.</p>
      ) : (
        <ul className="plain est-lines">
          {lines.map(({ line, priced }) => (
            <LineRow
              key={line.id}
              line={line}
              draft={desk.draft(line.id)}
              saved={desk.isSaved(line.id)}
              priced={priced}
              open={openId === line.id}
            />
          ))}
        </ul>
      )}
      {editable && <NewLine zone={zone} />}
    </Section>
  );
}
