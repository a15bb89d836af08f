import "./price-book.css";
import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { q } from "../../api/queries.ts";
import { useParam } from "../../app/params.ts";
import { useMay } from "../../app/session.ts";
import { Flag } from "../../ui/flag.tsx";
import { sentence, words } from "../../ui/format.ts";
import { Page } from "../../ui/page.tsx";
import { EmptyState, Loaded } from "../../ui/states.tsx";
import { AssemblyForm } from "./assembly-form.tsx";
import { AssemblyRead } from "./assembly-read.tsx";
import { STANDING } from "./book.ts";
import { Fixed } from "./head.tsx";
import { RetireAssembly } from "./retire.tsx";

/** One assembly of a price book with a worked example beside it. */
export default function AssemblyScreen() {
  const bookId = useParam("bookId");
  const assemblyId = useParam("assemblyId");
  const may = useMay();
  const book = useQuery(q.priceBook(bookId));
  const assembly = book.data?.assemblies.find(({ id }) => id === assemblyId);
  const editable = may("price_book.edit") && book.data?.standing !== "past";
  const fresh = assemblyId === "new";
  return (
    <Page
      title={fresh ? "A new assembly" : (assembly?.description ?? "Assembly")}
      over={
        <>
          <Link to="/price-book" search={{ book: bookId }}>
            Price book
          </Link>
          {book.data && `, ${book.data.name} (${STANDING[book.data.standing]})`}
        </>
      }
      lead={
        assembly && (
          <>
            {assembly.code}: {sentence(words(assembly.component))}, {words(assembly.action)}.{" "}
            {assembly.retired && <Flag>retired</Flag>}
          </>
        )
      }
      actions={editable && assembly && <RetireAssembly row={assembly} />}
    >
      <Loaded query={book} rows={12}>
        {(data: PriceBook) => (
          <>
            <Fixed book={data} />
            {!assembly && !(fresh && editable) ? (
              <EmptyState title={fresh ? "Nothing to read yet" : "This book has no such assembly"}>
                Go back to the price book and choose one.
              </EmptyState>
            ) : editable ? (
              <AssemblyForm key={assemblyId} book={data} assembly={assembly} />
            ) : (
              assembly && <AssemblyRead book={data} assembly={assembly} />
            )}
          </>
        )}
      </Loaded>
    </Page>
  );
}
