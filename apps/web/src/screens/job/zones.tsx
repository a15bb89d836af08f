import type { Zone } from "@ledgerboard/contracts/jobs";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { quantity, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { useJob } from "./asking.ts";

const feet = (value: string | null) =>
  value === null ? <span className="quiet">–</span> : `${quantity(value)} ft`;

/** Why zones stay as they are now; null while they may change. */
function zonesStay(stage: string): string | null {
  if (stage === "closed") return "The job is closed. Reopen it first.";
  if (stage === "under_way" || stage === "finished")
    return "Work has started, so the zones stay as they are.";
  return null;
}

/** The parts of the structure, with their measures in feet. */
export function ZonesPart() {
  const { job, ask } = useJob();
  const may = useMay();
  const stay = zonesStay(job.stage);
  const edit = may("estimates.first_pass") && !stay;
  const columns: Column<Zone>[] = [
    {
      title: "Zone",
      cell: (zone) => (
        <div>
          {zone.name}
          <small className="quiet block">
            {words(zone.kind)}, {words(zone.evidence)}
          </small>
          {zone.notes && <small className="kept-lines block">{zone.notes}</small>}
        </div>
      ),
    },
    { title: "Long", num: true, cell: (zone) => feet(zone.lengthFt) },
    { title: "Wide", num: true, cell: (zone) => feet(zone.widthFt) },
    { title: "High", num: true, cell: (zone) => feet(zone.heightFt) },
  ];
  if (edit)
    columns.push({
      title: "Acts",
      silent: true,
      cell: (zone) => (
        <span className="row end no-print">
          <Button
            small
            kind="text"
            aria-label={`Correct ${zone.name}`}
            onPress={() => ask("edit_zone", zone.id)}
          >
            Correct
          </Button>
          <Button
            small
            kind="text"
            aria-label={`Remove ${zone.name}`}
            onPress={() => ask("remove_zone", zone.id)}
          >
            Remove
          </Button>
        </span>
      ),
    });
  return (
    <Section
      id="zones"
      title="Zones"
      acts={
        edit && (
          <Button small onPress={() => ask("add_zone")}>
            Add a zone
          </Button>
        )
      }
    >
      {job.zones.length === 0 ? (
        <p className="quiet">No zone yet. An estimate needs at least one: a deck, a porch, a stair.</p>
      ) : (
        <Table
          caption="Zones with their measures"
          columns={columns}
          rows={job.zones}
          rowKey={(zone) => zone.id}
        />
      )}
      {!edit && (
        <small className="quiet block">{stay ?? `Changed by ${whoMay("estimates.first_pass")}.`}</small>
      )}
    </Section>
  );
}
