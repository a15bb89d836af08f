import type { JobRow } from "@ledgerboard/contracts/jobs";
import { memo } from "react";
import { Flag } from "../../ui/flag.tsx";
import { money } from "../../ui/format.ts";
import { Plank } from "./plank.tsx";
import type { Scale } from "./scale.ts";
import { isChanged, nextAct, plainHolds, told } from "./tell.ts";

interface Props {
  row: JobRow;
  scale: Scale;
  /** Present when this member may pin. */
  onPin: ((row: JobRow) => void) | undefined;
}

/**
 * One job of the list. The link carries the whole row as a sentence; what is drawn is for the eye. Link and
 * button are plain elements: there are hundreds, and the list follows the clicks for all of them.
 */
export const Row = memo(function Row({ row, scale, onPin }: Props) {
  const facts = [
    row.price && money(row.price),
    plainHolds(row).length > 0 && `held: ${plainHolds(row).join(", ")}`,
  ].filter(Boolean);
  const changed = isChanged(row);
  const { who, task } = nextAct(row);
  return (
    <li className={row.pinnedWhy ? "wait pinned" : "wait"}>
      <a className="wait-link" href={`/jobs/${row.id}`} data-job={row.id}>
        <span className="sr">{told(row, scale.today)}</span>
        <span aria-hidden="true" className="wait-job">
          <b className="wait-number nowrap">{row.number}</b> {row.customerName}
          <small>
            {row.title}, {row.city}
          </small>
        </span>
      </a>
      <Plank row={row} scale={scale} />
      <div className="wait-act">
        <div aria-hidden="true">
          {who && <b>{who}: </b>}
          {task} {row.hazard && <Flag alarm>{row.hazard}</Flag>}
          {changed && <Flag alarm>changed</Flag>}
          {row.pinnedWhy && <Flag>pinned: {row.pinnedWhy}</Flag>}
          {facts.length > 0 && <small className="quiet">{facts.join(" · ")}</small>}
        </div>
        {onPin && (
          <button
            type="button"
            className="button text small"
            onClick={() => onPin(row)}
            aria-label={`${row.pinnedWhy ? "Let go of" : "Pin"} ${row.number}`}
          >
            {row.pinnedWhy ? "let go" : "pin"}
          </button>
        )}
      </div>
    </li>
  );
});
