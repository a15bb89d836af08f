import type { PriceBook, PriceBookItem } from "@ledgerboard/contracts/price-book";
import { COMPONENTS, type Component } from "@ledgerboard/contracts/vocabulary";
import type { PricingTerms } from "@ledgerboard/estimating";
import { useMemo, useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { useSearchText } from "../../app/search.ts";
import { useMay } from "../../app/session.ts";
import { Button } from "../../ui/button.tsx";
import { Checkbox } from "../../ui/choices.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { hours, money, percent, plural, sentence, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { Select } from "../../ui/select.tsx";
import { EmptyState } from "../../ui/states.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { TextField } from "../../ui/text-field.tsx";
import { toast } from "../../ui/toast.tsx";
import { ItemForm, unitWord } from "./item-form.tsx";
import { editUnitCost, unitPrices } from "./unit.ts";

/** What the company does at a price. `typed`: terms being typed above, to see what they would do. */
export function Items({ book, typed }: { book: PriceBook; typed: PricingTerms | null }) {
  const editable = useMay()("price_book.edit");
  const [{ search = "", component = "", retired = "" }, setSearch] = useSearchText();
  const [asked, setAsked] = useState<PriceBookItem | "new" | null>(null);
  const wouldBe = useMemo(() => (typed ? unitPrices(book, typed) : null), [book, typed]);
  const shown = book.items
    .filter((item) => (retired ? true : !item.retired))
    .filter((item) => !component || item.component === component)
    .filter((item) => matches(item, search))
    .toSorted((a, b) => COMPONENTS.indexOf(a.component) - COMPONENTS.indexOf(b.component));
  const gone = book.items.filter((item) => item.retired).length;

  const columns: Column<PriceBookItem>[] = [
    {
      title: "Item",
      cell: (item) => (
        <span>
          {item.description} {item.retired && <Flag>retired</Flag>}
          <small className="quiet block pb-code">{item.code}</small>
        </span>
      ),
    },
    { title: "For", cell: (item) => `${sentence(words(item.component))}, ${words(item.action)}` },
    {
      title: "Material",
      num: true,
      cell: (item) => (
        <span>
          ${editUnitCost(item.materialUnitCents)}
          {item.wasteBp > 0 && <small className="quiet block">+ {percent(item.wasteBp)} waste</small>}
        </span>
      ),
    },
    {
      title: "Labor",
      num: true,
      cell: (item) => (
        <span>
          {hours(item.hoursPerUnit)}
          <small className="quiet block">{rateName(book, item.laborRateCode)}</small>
        </span>
      ),
    },
    {
      title: "Unit price",
      num: true,
      cell: (item) => <Price item={item} next={wouldBe?.get(item.id)} />,
    },
  ];
  if (editable)
    columns.push({
      title: "Change it",
      silent: true,
      num: true,
      cell: (item) => <ItemActs item={item} onChange={() => setAsked(item)} />,
    });
  return (
    <Section
      title="Items"
      note={plural(book.items.length - gone, "item")}
      acts={
        editable && (
          <Button small onPress={() => setAsked("new")}>
            Add an item
          </Button>
        )
      }
    >
      <search className="pb-filter no-print">
        <TextField
          label="Search"
          type="search"
          name="search"
          placeholder="code, words"
          value={search}
          onChange={(next) => setSearch({ search: next })}
        />
        <Select
          label="Component"
          name="component"
          options={COMPONENTS.filter((one) => book.items.some((item) => item.component === one))}
          empty="all"
          value={component as Component}
          onChange={(next) => setSearch({ component: next })}
        />
        {gone > 0 && (
          <Checkbox
            label={`Show ${plural(gone, "retired item")}`}
            name="retired"
            value={retired !== ""}
            onChange={(now) => setSearch({ retired: now ? "yes" : undefined })}
          />
        )}
      </search>
      <p className="sr" role="status">
        {plural(shown.length, "item")} shown
      </p>
      {typed && (
        <p className="notice">
          Unit prices are shown as they would be with the terms typed above. Not saved.
        </p>
      )}
      {shown.length > 0 ? (
        <Table caption="Items of the price book" columns={columns} rows={shown} rowKey={({ id }) => id} />
      ) : (
        <EmptyState
          title={book.items.length === 0 ? "The book is empty" : "No item is like that"}
          actions={
            (search || component) && (
              <Button onPress={() => setSearch({ search: "", component: "" })}>Show all</Button>
            )
          }
        >
          {book.items.length === 0
            ? "An item is a piece of work with its material and hours; estimates are priced from it."
            : "Try another word, or all components."}
        </EmptyState>
      )}
      {asked && (
        <Dialog
          title={asked === "new" ? "A new item" : `Change ${asked.code}`}
          open
          onClose={() => setAsked(null)}
        >
          <ItemForm
            book={book}
            item={asked === "new" ? undefined : (book.items.find(({ id }) => id === asked.id) ?? asked)}
            onClose={() => setAsked(null)}
          />
        </Dialog>
      )}
    </Section>
  );
}

function Price({ item, next }: { item: PriceBookItem; next: number | null | undefined }) {
  const now = item.unitPrice.cents;
  const moved = next !== undefined && next !== now;
  return (
    <span>
      {moved && (
        <s className="quiet block">
          <small>{money(now)}</small>
        </s>
      )}
      <b>{next === null ? "beyond reason" : money(next ?? now)}</b>
      <small className="quiet block">a {unitWord(item.unit)}</small>
    </span>
  );
}

function ItemActs({ item, onChange }: { item: PriceBookItem; onChange: () => void }) {
  const back = useAct(api.updatePriceBookItem, { done: `${item.code} can be chosen again.` });
  const retire = useAct(api.updatePriceBookItem, {
    onDone: (saved) =>
      toast(`${saved.code} is retired: lines that use it stay, new ones cannot choose it.`, {
        undo: () =>
          back.act({ params: { itemId: saved.id }, version: saved.version, body: { retired: false } }),
      }),
  });
  const send = (act: typeof retire.act, retired: boolean) =>
    act({ params: { itemId: item.id }, version: item.version, body: { retired } });
  return (
    <span className="pb-acts no-print">
      <Button small aria-label={`Change ${item.code}`} onPress={onChange}>
        Change
      </Button>
      {item.retired ? (
        <Button
          small
          busy={back.busy}
          aria-label={`Bring ${item.code} back`}
          onPress={() => send(back.act, false)}
        >
          Bring back
        </Button>
      ) : (
        <Button
          small
          kind="text"
          busy={retire.busy}
          aria-label={`Retire ${item.code}`}
          onPress={() => send(retire.act, true)}
        >
          Retire
        </Button>
      )}
    </span>
  );
}

const rateName = (book: PriceBook, code: string): string =>
  book.laborRates.find((rate) => rate.code === code)?.name ?? code;

/** Every word typed occurs somewhere in what the item says. */
function matches(item: PriceBookItem, search: string): boolean {
  const text = [item.code, item.description, words(item.component), words(item.action)]
    .join(" ")
    .toLowerCase();
  return search
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}
