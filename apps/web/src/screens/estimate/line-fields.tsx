import { DOERS, type Doer } from "@ledgerboard/contracts/vocabulary";
import { Segment } from "../../ui/choices.tsx";
import { SuggestField } from "../../ui/suggest-field.tsx";
import { useEstimate } from "./context.ts";
import { doerWords } from "./told.ts";

const DOER_CHOICES = DOERS.map((value) => ({ value, label: doerWords(value) }));
export const DOER_MEANS: Record<Doer, string> = {
  us: "Ours to charge, and on the quote.",
  owner: "Out of the price. It stays on the quote as work the owner keeps for himself.",
  others: "Out of the price. It stays on the quote as work that others do and charge.",
};

/** Who carries the line out, with what that does to price and papers. */
export function DoerChoice({ value, onChange }: { value: Doer; onChange: (by: Doer) => void }) {
  return (
    <div className="est-thumbs">
      <span className="label" aria-hidden="true">
        Who does it
      </span>
      <Segment label="Who does it" options={DOER_CHOICES} value={value} onChange={onChange} />
      <span className="hint">{DOER_MEANS[value]}</span>
    </div>
  );
}

/** The optional extra a line belongs to. */
export function ExtraField({
  value,
  onChange,
  error,
}: {
  value: string;
  onChange: (name: string) => void;
  error?: string | undefined;
}) {
  const { extras } = useEstimate();
  return (
    <SuggestField
      label="Optional extra"
      name="alternate"
      suggestions={extras}
      maxLength={60}
      placeholder="staining"
      hint={
        value.trim()
          ? "Beside the price: the customer may take it or leave it. Lines of one name belong together."
          : "Named, the line stands beside the price, for the customer to take or leave."
      }
      value={value}
      onChange={onChange}
      error={error}
    />
  );
}
