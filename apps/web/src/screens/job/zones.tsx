import type { Zone } from "@ledgerboard/contracts/jobs";
import { Link } from "@tanstack/react-router";
import { useMay, useSession } from "../../app/session.ts";
import { Button, ButtonLink } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { quantity, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { isChanged, useKeptDraft } from "../zone/draft.ts";
import { PlanThumb } from "../zone/thumb.tsx";
import { useJob } from "./asking.ts";

/** "20 × 16 ft, 3.5 ft high", as far as it is known. */
function Size({ zone: { lengthFt, widthFt, heightFt } }: { zone: Zone }) {
  const across = [lengthFt, widthFt].flatMap((feet) => (feet === null ? [] : quantity(feet)));
  if (across.length === 0 && heightFt === null) return <span className="quiet">–</span>;
  return (
    <span>
      {across.length > 0 && <span className="nowrap">{across.join(" × ")} ft</span>}
      {heightFt !== null && <small className="quiet block nowrap">{quantity(heightFt)} ft high</small>}
    </span>
  );
}

/** Why zones stay as they are now; null while they may change. */
export function zonesStay(stage: string): string | null {
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
        <div className="job-zone">
          <div>
            <Link to="/jobs/$jobId/zones/$zoneId" params={{ jobId: job.id, zoneId: zone.id }}>
              {zone.name}
            </Link>{" "}
            <Unsaved zone={zone} />
            <small className="quiet block">
              {words(zone.kind)}, {zone.geometry ? "drawn, " : ""}
              {words(zone.evidence)}
            </small>
            {zone.notes && <small className="kept-lines block">{zone.notes}</small>}
          </div>
          {zone.geometry && <PlanThumb geometry={zone.geometry} />}
        </div>
      ),
    },
    { title: "Size", cell: (zone) => <Size zone={zone} /> },
  ];
  if (edit)
    columns.push({
      title: "Acts",
      silent: true,
      cell: (zone) => (
        <span className="row end no-print">
          <ButtonLink
            small
            kind="text"
            to="/jobs/$jobId/zones/$zoneId"
            params={{ jobId: job.id, zoneId: zone.id }}
            aria-label={`Measure ${zone.name}`}
          >
            Measure
          </ButtonLink>
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

/** Says that a drawing of one's own waits to be saved. */
function Unsaved({ zone }: { zone: Zone }) {
  const { member } = useSession();
  const kept = useKeptDraft(zone.id, member.id);
  return kept && isChanged(kept, zone) ? <Flag>drawn, not saved</Flag> : null;
}
