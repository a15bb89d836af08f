import { Link } from "@tanstack/react-router";
import { money, percent, sentence } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import type { Choices } from "./cumulative.ts";

type Zone = Choices["zones"][number];

/** The repair beside the same zones built new, zone by zone and in all. */
export function RebuildPart({ data, jobId }: { data: Choices; jobId: string }) {
  const { repair, rebuild } = data;
  const most = Math.max(1, ...data.zones.flatMap((z) => [z.repair.cents, z.rebuild?.cents ?? 0]));
  const missing = data.zones.some((zone) => zone.missing.length > 0);
  return (
    <Section id="rebuild" title="Repair or build new" note="the customer's price, either way">
      <div className="choices-total">
        <Pair
          repair={repair.cents}
          rebuild={rebuild?.cents ?? null}
          shareBp={rebuild && rebuild.cents > 0 ? Math.round((repair.cents * 10_000) / rebuild.cents) : null}
          most={Math.max(1, repair.cents, rebuild?.cents ?? 0)}
          what="the whole job"
        />
        <p className="quiet">
          <small>
            In total, with charges for the whole job.
            {missing &&
              " Something is missing from the rebuild (below), so building new would cost more than shown."}
          </small>
        </p>
      </div>
      {data.zones.map((zone) => (
        <ZoneBeside key={zone.zoneId} zone={zone} most={most} jobId={jobId} />
      ))}
    </Section>
  );
}

function ZoneBeside({ zone, most, jobId }: { zone: Zone; most: number; jobId: string }) {
  return (
    <div className="choices-zone">
      <h3>{sentence(zone.zone)}</h3>
      <Pair
        repair={zone.repair.cents}
        rebuild={zone.rebuild?.cents ?? null}
        shareBp={zone.shareBp}
        most={most}
        what={zone.zone}
      />
      {zone.missing.length > 0 && (
        <ul className="choices-missing">
          {zone.missing.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      {zone.rebuild === null && (
        <p className="no-print">
          <Link to="/jobs/$jobId/zones/$zoneId" params={{ jobId, zoneId: zone.zoneId }}>
            Measure {zone.zone}
          </Link>
        </p>
      )}
      {zone.lines.length > 0 && (
        <details className="choices-details">
          <summary>What building it new takes</summary>
          <table className="table">
            <caption className="sr">Lines of building {zone.zone} new</caption>
            <tbody>
              {zone.lines.map((line) => (
                <tr key={line.words}>
                  <th scope="row">
                    {sentence(line.words)}
                    {line.how && <small className="quiet block">{line.how}</small>}
                  </th>
                  <td className="num">{money(line.price)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </div>
  );
}

interface PairProps {
  repair: number;
  rebuild: number | null;
  shareBp: number | null;
  most: number;
  what: string;
}

/** Two plain bars on one scale; the words say the same. */
function Pair({ repair, rebuild, shareBp, most, what }: PairProps) {
  const bar = (cents: number) => ({ width: `${Math.max(0.5, (cents / most) * 100)}%` });
  return (
    <dl className="choices-pair">
      <div>
        <dt>Repair</dt>
        <dd className="choices-bar">{repair > 0 && <i className="repair" style={bar(repair)} />}</dd>
        <dd className="num">
          <b>{money(repair)}</b>
        </dd>
      </div>
      <div>
        <dt>New</dt>
        <dd className="choices-bar">{rebuild !== null && <i style={bar(rebuild)} />}</dd>
        <dd className="num">
          {rebuild === null ? <span className="quiet">not priced</span> : <b>{money(rebuild)}</b>}
        </dd>
      </div>
      {shareBp !== null && (
        <div>
          <dt className="sr">Share</dt>
          <dd className="choices-share">
            {repair === 0
              ? `No repair of ${what} is priced here.`
              : `Repairing ${what} costs ${percent(Math.round(shareBp / 100) * 100)} of building it new.`}
          </dd>
        </div>
      )}
    </dl>
  );
}
