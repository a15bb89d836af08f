import type { ScopeLine } from "@ledgerboard/contracts/estimates";
import { ACTIONS, type Action, type Component } from "@ledgerboard/contracts/vocabulary";
import { Segment } from "../../ui/choices.tsx";
import { words } from "../../ui/format.ts";
import { actionsFor } from "./book.ts";
import { useEstimate } from "./context.ts";

/** What is done: what the book has a price for by thumb, the rest in a list. */
export function ActionChoice({
  component,
  action,
  base,
  onChange,
}: {
  component: Component;
  action: Action;
  base: ScopeLine | null;
  onChange: (action: Action) => void;
}) {
  const { book } = useEstimate();
  const usual = new Set<Action>([...actionsFor(book, component), action, ...(base ? [base.action] : [])]);
  const thumbs = ACTIONS.filter((one) => usual.has(one));
  const others = ACTIONS.filter((one) => !usual.has(one));
  return (
    <div className="est-thumbs">
      <span className="label" aria-hidden="true">
        What is done
      </span>
      <Segment label="What is done" options={thumbs} value={action} onChange={onChange} />
      {others.length > 0 && (
        <select
          className="input est-other"
          aria-label="Something else that is done"
          value=""
          onChange={(event) => onChange(event.target.value as Action)}
        >
          <option value="">something else…</option>
          {others.map((one) => (
            <option key={one} value={one}>
              {words(one)}, not in the price book
            </option>
          ))}
        </select>
      )}
    </div>
  );
}
