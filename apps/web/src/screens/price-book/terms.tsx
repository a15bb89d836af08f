import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { money, percent } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { termsOf } from "./book.ts";
import { Worked } from "./terms-example.tsx";
import { TermsForm } from "./terms-form.tsx";

/** Overhead, margin, tax and the rest that is part of every price, with what they make of one example. */
export function Terms({ book, editable }: { book: PriceBook; editable: boolean }) {
  return (
    <Section title="Terms" note="part of every price">
      {editable ? (
        <TermsForm book={book} />
      ) : (
        <div className="pb-beside">
          <dl className="facts">
            <dt>Overhead</dt>
            <dd>{percent(book.overheadBp)} of material, tax, labor, disposal and equipment</dd>
            <dt>Margin</dt>
            <dd>{percent(book.marginBp)} of the price</dd>
            <dt>Tax on material</dt>
            <dd>{percent(book.materialTaxBp)}</dd>
            <dt>Minimum charge</dt>
            <dd>{book.minimumCharge.cents > 0 ? `${money(book.minimumCharge)} a job` : "none"}</dd>
            <dt>Price rounded up to</dt>
            <dd>{book.roundUpTo.cents > 1 ? `whole ${money(book.roundUpTo)}` : "the cent"}</dd>
            <dt>Labor overruns go together</dt>
            <dd>{percent(book.laborCorrelationBp)}</dd>
          </dl>
          <Worked terms={termsOf(book)} />
        </div>
      )}
    </Section>
  );
}
