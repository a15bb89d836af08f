import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { Flag } from "../../ui/flag.tsx";
import { money, sentence, words } from "../../ui/format.ts";
import { wholeAllowance } from "./allowance.ts";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { allowanceOf, departs, type Edit, toEdit, workWords } from "./edit.ts";
import { allowanceWords, doerWords } from "./told.ts";

/** Why a line is not simply in the price: somebody else does it, it is an extra, or nobody can see it yet. */
export function Stands({ edit }: { edit: Edit }) {
  const allowance = wholeAllowance(allowanceOf(edit));
  const extra = edit.alternate.trim();
  if (edit.by === "us" && !extra && !allowance) return null;
  return (
    <span className="est-stands">
      {edit.by !== "us" && <Flag>{doerWords(edit.by)}, out of the price</Flag>}
      {extra && <Flag>extra: {extra}</Flag>}
      {allowance && <small className="quiet">{allowanceWords(allowance, edit.unit)}</small>}
    </span>
  );
}

/** What the line said before the review. */
export function Before({ base, departed }: { base: ScopeLine; departed: boolean }) {
  const { baseName } = useEstimate();
  return (
    <small className="est-before block">
      {baseName}: {departed ? <s>{workWords(base)}</s> : workWords(base)}, {words(base.evidence)}
      {base.price.price.cents > 0 && `, ${money(base.price.price)}`}
    </small>
  );
}

/** Whether the line was looked at in the review, and what came of it. */
export function Reviewed({
  line,
  base,
  draft,
  left,
}: {
  line: ScopeLine;
  base: ScopeLine | null;
  draft: Draft | undefined;
  left: boolean;
}) {
  const edit = draft?.edit ?? toEdit(line);
  if (!base || departs(edit, base)) {
    const why = edit.reasonCode && `${words(edit.reasonCode)}${edit.reason && `: ${edit.reason}`}`;
    return (
      <small className="est-seen changed">
        {base ? "changed" : "new in this review"}
        {why && `. ${sentence(why)}`}
      </small>
    );
  }
  if (line.reviewed || draft?.reviewed) return <small className="est-seen yes">reviewed, as estimated</small>;
  return <small className="est-seen no">{left ? "not reviewed" : "not reviewed, carries no money"}</small>;
}
