import type { Job } from "@ledgerboard/contracts/jobs";
import { Link } from "@tanstack/react-router";
import { money, quantity } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { type CutPlan, packWords } from "./tell.ts";

type Purchase = CutPlan["packs"][number];

const COLUMNS: Column<Purchase>[] = [
  { title: "Material", cell: ({ name }) => name },
  {
    title: "Needed",
    num: true,
    cell: ({ needed, unit }) => quantity(String(Number(Number(needed).toFixed(1))), unit),
  },
  { title: "Buy", num: true, cell: packWords },
  { title: "Cost", num: true, cell: ({ cost }) => money(cost) },
];

const LEFT: Column<Purchase> = {
  title: "Worth left over",
  num: true,
  cell: ({ leftover }) => (leftover.cents > 0 ? money(leftover) : <span className="quiet">–</span>),
};

/** What is bought by the pack rather than cut: fasteners, hangers, stain, and lumber nobody measured. */
export function PacksPart({ packs }: Pick<CutPlan, "packs">) {
  if (packs.length === 0) return null;
  const left = packs.some(({ leftover }) => leftover.cents > 0);
  return (
    <Section title="By the pack" note="with the estimate's waste">
      <Table
        caption="Packs to buy"
        columns={left ? [...COLUMNS, LEFT] : COLUMNS}
        rows={packs}
        rowKey={({ code, section }) => `${code} ${section}`}
      />
    </Section>
  );
}

/** Lines no length is known for, and where to measure them. */
export function UnmeasuredPart({ unmeasured, job }: Pick<CutPlan, "unmeasured"> & { job: Job | undefined }) {
  if (unmeasured.length === 0) return null;
  const open = job?.zones.filter(({ geometry }) => geometry === null) ?? [];
  return (
    <Section title="Without lengths" note="bought by the foot, with the estimate's waste">
      <ul className="cut-facts">
        {unmeasured.map(({ words }) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      {job && (
        <p className="no-print">
          {open.length > 0 ? "Measure " : "Their zones are measured, but not these parts of them: "}
          {(open.length > 0 ? open : job.zones).map((zone, i) => (
            <span key={zone.id}>
              {i > 0 && ", "}
              <Link to="/jobs/$jobId/zones/$zoneId" params={{ jobId: job.id, zoneId: zone.id }}>
                {zone.name}
              </Link>
            </span>
          ))}{" "}
          to have them cut from the drawing.
        </p>
      )}
    </Section>
  );
}
