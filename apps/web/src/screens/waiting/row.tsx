import type { JobRow } from "@ledgerboard/contracts/jobs";
import { Link } from "@tanstack/react-router";
import { memo } from "react";
import { Button } from "../../ui/button.tsx";
import { Flag } from "../../ui/flag.tsx";
import { money, sentence, words } from "../../ui/format.ts";
import { Plank } from "./plank.tsx";
import type { Scale } from "./scale.ts";
import { isChanged, plainHolds, told } from "./tell.ts";

interface Props {
  row: JobRow;
  scale: Scale;
  /** Present when this member may pin. */
  onPin: ((row: JobRow) => void) | undefined;
}

/** One job of the list. The link carries the whole row as a sentence; what is drawn is for the eye. */
export const Row = memo(function Row({ row, scale, onPin }: Props) {
  const facts = [
    row.price && money(row.price),
    plainHolds(row).length > 0 && `held: ${plainHolds(row).join(", ")}`,
  ].filter(Boolean);
  const changed = isChanged(row);
  return (
    <li className={row.pinnedWhy ? "wait pinned" : "wait"}>
      <Link className="wait-link" to="/jobs/$jobId" params={{ jobId: row.id }} preload={false}>
        <span className="sr">{told(row, scale.today)}</span>
        <span aria-hidden="true" className="wait-job">
          <b className="nowrap">{row.number}</b> {row.customerName}
          <small>
            {row.title}, {row.city}
          </small>
        </span>
      </Link>
      <Plank row={row} scale={scale} />
      <div className="wait-act">
        <div aria-hidden="true">
          {row.next.owedBy && <b>{sentence(words(row.next.owedBy))}: </b>}
          {row.next.words} {row.hazard && <Flag alarm>{row.hazard}</Flag>}
          {changed && <Flag alarm>changed</Flag>}
          {row.pinnedWhy && <Flag>pinned: {row.pinnedWhy}</Flag>}
          {facts.length > 0 && <small className="quiet">{facts.join(" · ")}</small>}
        </div>
        {onPin && (
          <Button
            kind="text"
            small
            onPress={() => onPin(row)}
            aria-label={`${row.pinnedWhy ? "Let go of" : "Pin"} ${row.number}`}
          >
            {row.pinnedWhy ? "let go" : "pin"}
          </Button>
        )}
      </div>
    </li>
  );
});
