import type { Finding } from "@ledgerboard/contracts/assessment";
import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { type FocusEvent, type KeyboardEvent, memo, useEffect, useRef, useState } from "react";
import { Button } from "../../ui/button.tsx";
import { forOne, hours, money, moneyChange, quantity, sentence, unitSuffix, words } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { assemblyOf } from "./book.ts";
import { useEstimate } from "./context.ts";
import type { Draft } from "./desk.ts";
import { departs, problemOf, toEdit } from "./edit.ts";
import { LineForm } from "./line-form.tsx";
import { Before, Reviewed, Stands } from "./line-told.tsx";
import { Mark } from "./mark.tsx";
import type { Priced } from "./prices.ts";
import { Remarks } from "./remarks.tsx";
import { Theirs } from "./theirs.tsx";
import { Unfold } from "./unfold.tsx";

interface Props {
  line: ScopeLine;
  draft: Draft | undefined;
  saved: boolean;
  priced: Priced | null;
  findings: readonly Finding[];
  open: boolean;
}

/** One scope line: what, how much, how it is known, hours, price, what is remarked on it, and whether it is saved. */
export const LineRow = memo(function LineRow({ line, draft, saved, priced, findings, open }: Props) {
  const { editable, review, revision, book, desk, baseOf, setOpen } = useEstimate();
  const [unfolded, setUnfolded] = useState(false);
  const row = useFocusKept(open);
  const base = baseOf(line);
  const edit = draft?.edit ?? toEdit(line);
  const problem = draft ? problemOf(edit, review, base) : null;
  const told = edit.description || assemblyOf(book, edit.assemblyCode)?.description;
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
      ref={row}
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
          {told && <small className="quiet block">{told}</small>}
          <Stands edit={edit} />
          {base && <Before base={base} departed={departs(edit, base)} />}
        </div>
        <div className="est-much num">
          {editable && !open ? (
            <DecimalField
              label={`How much: ${name}`}
              suffix={unitSuffix(edit.unit)}
              name="quantity"
              value={edit.quantity}
              onChange={(value) => desk.change(line, { quantity: value })}
            />
          ) : (
            <span>{edit.quantity === null ? "—" : quantity(edit.quantity, edit.unit)}</span>
          )}
        </div>
        <div className="est-known quiet">{words(edit.evidence)}</div>
        <div className="est-hours num">{priced ? hours(priced.price.hours) : "—"}</div>
        <div className="est-price num">
          <Price
            name={name}
            id={`unfold-${line.id}`}
            priced={priced}
            unfolded={unfolded}
            onUnfold={() => setUnfolded(!unfolded)}
          />
          {base && priced && priced.price.priceCents !== base.price.price.cents && (
            <small className="block">{moneyChange(priced.price.priceCents - base.price.price.cents)}</small>
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
      {!open && <Remarks findings={findings} label={`Remarks on ${name}`} />}
      {unfolded && priced && <Unfold id={`unfold-${line.id}`} priced={priced} terms={revision.terms} />}
      {draft?.theirs && <Theirs line={line} draft={draft} />}
      {open && <LineForm line={line} draft={draft} priced={priced} findings={findings} />}
    </li>
  );
});

/** The button that opens or closes a line goes away with it: the keyboard goes on in the same row, not at the top. */
function useFocusKept(open: boolean) {
  const row = useRef<HTMLLIElement>(null);
  const before = useRef(open);
  useEffect(() => {
    if (before.current === open) return;
    before.current = open;
    if (document.activeElement !== document.body) return;
    const next = open ? ".est-form :is([data-selected], .input)" : ".est-acts button:last-child";
    row.current?.querySelector<HTMLElement>(next)?.focus({ preventScroll: true });
  }, [open]);
  return row;
}

/** The price of a line, which unfolds; work charged only if found shows its agreed unit price instead. */
function Price({
  name,
  id,
  priced,
  unfolded,
  onUnfold,
}: {
  name: string;
  id: string;
  priced: Priced | null;
  unfolded: boolean;
  onUnfold: () => void;
}) {
  const unit = forOne(priced?.line.unit ?? "each");
  const found = priced?.standing === "if_found" ? priced.agreed : null;
  const carries = priced && priced.standing !== "not_ours" && priced.standing !== "unpriced";
  const shown = found ? money(found.unitPriceCents) : carries ? money(priced.price.priceCents) : "—";
  return (
    <>
      <button
        type="button"
        className="est-unfolder"
        aria-expanded={unfolded}
        aria-controls={id}
        aria-label={`Price of ${name}: ${carries ? shown : priced ? "none" : "not known yet"}${found ? ` ${unit}, only if found` : ""}. How it is made`}
        disabled={!priced}
        onClick={onUnfold}
      >
        {shown}
      </button>
      {found && (
        <small className="block quiet">
          {unit}, if found; at most {money(found.capCents)}
        </small>
      )}
    </>
  );
}

/** The quantity of the line below, so that Enter walks down the page. */
function nextQuantity(from: HTMLElement): HTMLElement | undefined {
  const all = [...document.querySelectorAll<HTMLElement>(".est-line input[name=quantity], .est-new select")];
  return all[all.indexOf(from) + 1];
}
