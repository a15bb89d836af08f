import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { type FocusEvent, type KeyboardEvent, memo, useState } from "react";
import { Button } from "../../ui/button.tsx";
import { hours, money, moneyChange, quantity, sentence, words } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { departs, doerWords, problemOf, toEdit, workWords } from "./edit.ts";
import { LineForm } from "./line-form.tsx";
import { Mark } from "./mark.tsx";
import type { Priced } from "./prices.ts";
import { Theirs } from "./theirs.tsx";
import { Unfold } from "./unfold.tsx";

interface Props {
  line: ScopeLine;
  draft: Draft | undefined;
  saved: boolean;
  priced: Priced;
  open: boolean;
}

/** One scope line: what, how much, how it is known, hours, price, and whether it is saved. */
export const LineRow = memo(function LineRow({ line, draft, saved, priced, open }: Props) {
  const { editable, review, revision, book, desk, baseOf, setOpen } = useEstimate();
  const [unfolded, setUnfolded] = useState(false);
  const base = baseOf(line);
  const edit = draft?.edit ?? toEdit(line);
  const problem = draft ? problemOf(edit, review, base) : null;
  const { price } = priced;
  const told = edit.description || book?.items.find(({ code }) => code === edit.itemCode)?.description;
  const name = `${line.zoneName}, ${words(edit.component)}`;
  const left = review && !line.reviewed && draft?.reviewed !== true && line.price.price.cents > 0;

  const onBlur = (event: FocusEvent<HTMLElement>) => {
    if (!event.currentTarget.contains(event.relatedTarget)) desk.flush(line.id);
  };
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const field = event.target as HTMLElement;
    if (event.key === "Escape" && open) setOpen(null);
    if (event.key !== "Enter" || field.tagName !== "INPUT") return;
    desk.flush(line.id);
    if (!open) nextQuantity(field)?.focus();
  };
  return (
    <li
      id={`line-${line.id}`}
      className={[
        "est-line",
        open && "is-open",
        left && "is-left",
        review && "is-review",
        !editable && "is-read",
        draft?.theirs && "is-overtaken",
      ]
        .filter(Boolean)
        .join(" ")}
      onBlur={onBlur}
      onKeyDown={onKeyDown}
    >
      <div className="est-row">
        <div className="est-what">
          <b>{sentence(words(edit.component))}</b>, {words(edit.action)}
          {edit.by !== "us" && `, ${doerWords(edit.by)}`}
          {told && <small className="quiet block">{told}</small>}
          {base && <Before base={base} departed={departs(edit, base)} />}
        </div>
        <div className="est-much num">
          {editable && !open ? (
            <DecimalField
              label={`How much: ${name}`}
              suffix={edit.unit === "each" ? "" : words(edit.unit)}
              name="quantity"
              value={edit.quantity}
              onChange={(value) => desk.change(line, { quantity: value })}
            />
          ) : (
            <span>{edit.quantity === null ? "—" : quantity(edit.quantity, edit.unit)}</span>
          )}
        </div>
        <div className="est-known quiet">{words(edit.evidence)}</div>
        <div className="est-hours num">{price ? hours(price.hours) : "—"}</div>
        <div className="est-price num">
          <button
            type="button"
            className="est-unfolder"
            aria-expanded={unfolded}
            aria-controls={`unfold-${line.id}`}
            aria-label={`Price of ${name}: ${price ? money(price.priceCents) : "not known yet"}. How it is made`}
            disabled={!price}
            onClick={() => setUnfolded(!unfolded)}
          >
            {price ? money(price.priceCents) : "—"}
          </button>
          {base && price && price.priceCents !== base.price.price.cents && (
            <small className="block">{moneyChange(price.priceCents - base.price.price.cents)}</small>
          )}
        </div>
        {editable && !open && (
          <div className="est-acts no-print">
            {left && (
              <Button
                small
                aria-label={`As estimated: ${name}`}
                onPress={() => {
                  desk.change(line, {}, true);
                  desk.flush(line.id);
                }}
              >
                As estimated
              </Button>
            )}
            <Button small aria-label={`Change ${name}`} onPress={() => setOpen(line.id)}>
              Change
            </Button>
          </div>
        )}
      </div>
      {(review || draft || saved) && (
        <div className="est-state">
          {review && <Reviewed line={line} base={base} draft={draft} left={left} />}
          <Mark draft={draft} saved={saved} problem={problem} />
        </div>
      )}
      {unfolded && price && <Unfold id={`unfold-${line.id}`} priced={priced} terms={revision.terms} />}
      {draft?.theirs && <Theirs line={line} draft={draft} />}
      {open && <LineForm line={line} draft={draft} />}
    </li>
  );
});

/** What the line said before the review. */
function Before({ base, departed }: { base: ScopeLine; departed: boolean }) {
  const { baseName } = useEstimate();
  return (
    <small className="est-before block">
      {baseName}: {departed ? <s>{workWords(base)}</s> : workWords(base)}, {words(base.evidence)}
      {base.price.price.cents > 0 && `, ${money(base.price.price)}`}
    </small>
  );
}

function Reviewed({
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

/** The quantity of the line below, so that Enter walks down the page. */
function nextQuantity(from: HTMLElement): HTMLElement | undefined {
  const all = [...document.querySelectorAll<HTMLElement>(".est-line input[name=quantity], .est-new select")];
  return all[all.indexOf(from) + 1];
}
