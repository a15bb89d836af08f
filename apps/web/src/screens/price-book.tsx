import "./price-book/price-book.css";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { PricingTerms } from "@ledgerboard/estimating";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../api/queries.ts";
import { useMay } from "../app/session.ts";
import { longDay } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { Loaded } from "../ui/states.tsx";
import { whoMay } from "../ui/who-may.ts";
import { Items } from "./price-book/items.tsx";
import { Rates } from "./price-book/rates.tsx";
import { Terms } from "./price-book/terms.tsx";

export default function PriceBookScreen() {
  const may = useMay();
  const book = useQuery(q.priceBook());
  return (
    <Page
      title="Price book"
      lead={book.data && `${book.data.name}. In effect from ${longDay(book.data.effectiveFrom)}.`}
    >
      {!may("price_book.edit") && (
        <p className="notice">Only to read: {whoMay("price_book.edit")} may change the price book.</p>
      )}
      <Loaded query={book} rows={12}>
        {(data) => <Book book={data} />}
      </Loaded>
    </Page>
  );
}

function Book({ book }: { book: PriceBook }) {
  const [typed, setTyped] = useState<PricingTerms | null>(null);
  return (
    <>
      <Terms book={book} onTyping={setTyped} />
      <Rates book={book} />
      <Items book={book} typed={typed} />
    </>
  );
}
