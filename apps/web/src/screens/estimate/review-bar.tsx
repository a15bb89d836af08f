import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { Button } from "../../ui/button.tsx";
import { money, plural, words } from "../../ui/format.ts";
import { useEstimate } from "./context.ts";

/** How much of the money was looked at, and the way to what was not. Under the thumb on a phone. */
export function ReviewBar({ left, totalCents }: { left: readonly ScopeLine[]; totalCents: number }) {
  const { setOpen, editable } = useEstimate();
  const leftCents = left.reduce((sum, line) => sum + line.price.price.cents, 0);
  const seenCents = Math.max(0, totalCents - leftCents);
  const share = totalCents === 0 ? 100 : Math.floor((100 * seenCents) / totalCents);
  const next = left[0];
  const jump = () => {
    if (!next) return;
    setOpen(null);
    const row = document.getElementById(`line-${next.id}`);
    row?.scrollIntoView({ block: "center" });
    row?.querySelector<HTMLElement>(".est-acts button")?.focus({ preventScroll: true });
  };
  return (
    <div className="est-review">
      <div className="est-review-words">
        <span className="est-seen-sum">
          <b>{money(seenCents)}</b> of {money(totalCents)} reviewed
        </span>
        <span className="quiet">
          {left.length === 0
            ? "nothing left"
            : `${money(leftCents)} not reviewed, ${plural(left.length, "line")}`}
        </span>
      </div>
      <div
        className="est-tank"
        role="progressbar"
        aria-label="Money reviewed"
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={share}
        aria-valuetext={`${money(leftCents)} not reviewed`}
      >
        <i style={{ width: `${share}%` }} />
      </div>
      {editable && next && (
        <Button kind="main" onPress={jump}>
          Next: {next.zoneName}, {words(next.component)}, {money(next.price.price)}
        </Button>
      )}
    </div>
  );
}
