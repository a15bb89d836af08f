import "./price-book/price-book.css";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../api/queries.ts";
import { useSearchText } from "../app/search.ts";
import { useMay } from "../app/session.ts";
import { Segment } from "../ui/choices.tsx";
import { longDay } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { Loaded } from "../ui/states.tsx";
import { Assemblies } from "./price-book/assemblies.tsx";
import { Files } from "./price-book/files.tsx";
import { BookActs, BookLine, Fixed } from "./price-book/head.tsx";
import { type ImportDraft, NO_IMPORT } from "./price-book/import.tsx";
import { LaborRates } from "./price-book/labor-rates.tsx";
import { Materials } from "./price-book/materials.tsx";
import { Terms } from "./price-book/terms.tsx";

const PARTS = ["assemblies", "materials", "labor", "terms", "files"] as const;
type Part = (typeof PARTS)[number];

/** What the company's work costs and is sold for: prices, hours and terms, by the day they take effect. */
export default function PriceBookScreen() {
  const [search, setSearch] = useSearchText();
  const book = useQuery(q.priceBook(search.book));
  const part = PARTS.find((one) => one === search.part) ?? "assemblies";
  return (
    <Page
      title="Price book"
      lead={book.data && <BookLine book={book.data} />}
      actions={book.data && <BookActs book={book.data} />}
    >
      <Loaded query={book} rows={12}>
        {(data) => (
          <Parts
            key={data.id}
            book={data}
            part={part}
            // Words looked for in one list mean nothing in another.
            onPart={(next) =>
              setSearch({ part: next, search: undefined, component: undefined, action: undefined })
            }
          />
        )}
      </Loaded>
    </Page>
  );
}

function Parts({ book, part, onPart }: { book: PriceBook; part: Part; onPart: (part: Part) => void }) {
  const editable = useMay()("price_book.edit") && book.standing !== "past";
  const [draft, setDraft] = useState<ImportDraft>(NO_IMPORT);
  const inUse = (rows: readonly { retired: boolean }[]) => rows.filter(({ retired }) => !retired).length;
  return (
    <>
      <Fixed book={book} />
      {editable && (
        <p className="pb-reach">
          {book.standing === "to_come"
            ? `Prices changed here reach new lines from ${longDay(book.effectiveFrom)} on. To bring a first pass that is open then to these prices, open it and choose “See what would move”.`
            : "Prices changed here reach new lines only. To bring an open first pass to these prices, open it and choose “See what would move”."}
        </p>
      )}
      <div className="no-print">
        <Segment
          label="Part of the price book"
          value={part}
          onChange={onPart}
          options={[
            { value: "assemblies", label: "Assemblies", count: inUse(book.assemblies) },
            { value: "materials", label: "Materials", count: inUse(book.materials) },
            { value: "labor", label: "Labor", count: book.laborRates.length },
            { value: "terms", label: "Terms" },
            { value: "files", label: "Files" },
          ]}
        />
      </div>
      {part === "assemblies" && <Assemblies book={book} editable={editable} />}
      {part === "materials" && <Materials book={book} editable={editable} />}
      {part === "labor" && <LaborRates book={book} editable={editable} />}
      {part === "terms" && <Terms book={book} editable={editable} />}
      {part === "files" && <Files book={book} editable={editable} draft={draft} onDraft={setDraft} />}
    </>
  );
}
