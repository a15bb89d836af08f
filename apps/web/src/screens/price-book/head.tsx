import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { q } from "../../api/queries.ts";
import { useSearchText } from "../../app/search.ts";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { ConfirmDialog } from "../../ui/confirm-dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { longDay, sentence } from "../../ui/format.ts";
import { Select } from "../../ui/select.tsx";
import { whoMay } from "../../ui/who-may.ts";
import { STANDING } from "./book.ts";
import { StartBook } from "./start-book.tsx";

const dayWords = ({ standing, effectiveFrom }: Pick<PriceBook, "standing" | "effectiveFrom">): string =>
  ({
    in_effect: `since ${longDay(effectiveFrom)}.`,
    to_come: `from ${longDay(effectiveFrom)}.`,
    past: `from ${longDay(effectiveFrom)}, since followed by another.`,
  })[standing];

/** Which book this is and how it stands. */
export const BookLine = ({ book }: { book: PriceBook }) => (
  <>
    <b className="pb-name">{book.name}</b> <Flag>{STANDING[book.standing]}</Flag> {dayWords(book)}
  </>
);

/** Why nothing can be changed, where nothing can. */
export function Fixed({ book }: { book: PriceBook }) {
  const may = useMay();
  if (book.standing === "past")
    return (
      <p className="notice">
        Only to read: this book is past. Estimates were priced from it, so it stays as it was. Change the book
        in effect, or start a new one.
      </p>
    );
  return may("price_book.edit") ? null : (
    <p className="notice">Only to read: {whoMay("price_book.edit")} may change the price book.</p>
  );
}

/** Other books: look at one, start one, discard one to come. */
export function BookActs({ book }: { book: PriceBook }) {
  const may = useMay();
  const [, setSearch] = useSearchText();
  const books = useQuery(q.priceBooks());
  const [asked, setAsked] = useState<"start" | "discard" | null>(null);
  const show = (bookId: string | undefined) => setSearch({ book: bookId });
  const discard = useAct(api.discardPriceBook, {
    done: `${book.name} is discarded.`,
    onDone: () => show(undefined),
  });
  const all = books.data?.books ?? [];
  const newest = all[0] ?? book;
  return (
    <>
      {all.length > 1 && (
        <Select
          label="Book"
          name="book"
          value={book.id}
          options={all.map(({ id, name, effectiveFrom, standing }) => ({
            value: id,
            label: `${sentence(STANDING[standing])}: ${name}, ${longDay(effectiveFrom)}`,
          }))}
          onChange={show}
        />
      )}
      {may("price_book.edit") && (
        <>
          <Button onPress={() => setAsked("start")}>Start a new price book from a day</Button>
          {book.standing === "to_come" && (
            <Button alarm onPress={() => setAsked("discard")}>
              Discard this book
            </Button>
          )}
          {asked === "start" && (
            <StartBook newest={newest} onClose={() => setAsked(null)} onStarted={(id) => show(id)} />
          )}
          <ConfirmDialog
            title={`Discard ${book.name}?`}
            open={asked === "discard"}
            onClose={() => setAsked(null)}
            confirm="Discard the book"
            alarm
            busy={discard.busy}
            onConfirm={() => {
              setAsked(null);
              discard.act({ params: { bookId: book.id } });
            }}
          >
            <p>
              It would have taken effect on {longDay(book.effectiveFrom)}. Every price changed in it is lost;
              the book before it stays in effect. This cannot be undone.
            </p>
          </ConfirmDialog>
        </>
      )}
    </>
  );
}
