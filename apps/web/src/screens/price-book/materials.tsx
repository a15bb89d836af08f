import type { Material, PriceBook } from "@ledgerboard/contracts/price-book";
import { useState } from "react";
import { Button } from "../../ui/button.tsx";
import { Dialog } from "../../ui/dialog.tsx";
import { Flag } from "../../ui/flag.tsx";
import { money, plural, words } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { EmptyState } from "../../ui/states.tsx";
import { type Column, Table } from "../../ui/table.tsx";
import { aUnit, matches } from "./book.ts";
import { ListTools, useNarrowing } from "./list-tools.tsx";
import { MaterialForm } from "./material-form.tsx";
import { amountWords, bestPack } from "./packs.ts";
import { RetireMaterial } from "./retire.tsx";
import { perUnit } from "./unit-cost.ts";

/** What is bought, in the packs it is sold in. */
export function Materials({ book, editable }: { book: PriceBook; editable: boolean }) {
  const { text, retired, all } = useNarrowing();
  const [asked, setAsked] = useState<Material | "new" | null>(null);
  const gone = book.materials.filter((one) => one.retired).length;
  const shown = book.materials
    .filter((one) => retired || !one.retired)
    .filter((one) => matches(text, one.code, one.name, one.section ?? "", words(one.unit)));
  const columns: Column<Material>[] = [
    {
      title: "Material",
      cell: (one) => (
        <span>
          {one.name} {one.retired && <Flag>retired</Flag>}
          <small className="quiet block">
            {one.code}
            {one.section && `, ${one.section} cut to length`}
          </small>
        </span>
      ),
    },
    { title: "Sold in", cell: (one) => <Packs material={one} /> },
    {
      title: "Bought",
      cell: ({ wholePacks }) => (wholePacks ? "whole packs for the job" : "from stock, as used"),
    },
    { title: "Per unit", num: true, cell: (one) => <PerUnit material={one} /> },
  ];
  if (editable)
    columns.push({
      title: "Change it",
      silent: true,
      num: true,
      cell: (one) => (
        <span className="pb-acts no-print">
          <Button small aria-label={`Change ${one.code}`} onPress={() => setAsked(one)}>
            Change
          </Button>
          <RetireMaterial row={one} />
        </span>
      ),
    });
  return (
    <Section
      title="Materials"
      note="estimates take the cheapest pack per unit"
      acts={
        editable && (
          <Button small onPress={() => setAsked("new")}>
            Add a material
          </Button>
        )
      }
    >
      <ListTools gone={gone} shown={plural(shown.length, "material")} />
      {shown.length > 0 ? (
        <div className="pb-list">
          <Table
            caption="Materials of the price book"
            columns={columns}
            rows={shown}
            rowKey={({ id }) => id}
          />
        </div>
      ) : book.materials.length === 0 ? (
        <EmptyState title="No materials yet">
          Add what you buy, with its packs; assemblies name the materials they take.
        </EmptyState>
      ) : (
        <EmptyState title="No material is like that" actions={<Button onPress={all}>Show all</Button>}>
          Try another word, or a part of the code.
        </EmptyState>
      )}
      {asked && (
        <Dialog
          title={asked === "new" ? "A new material" : `Change ${asked.code}`}
          open
          wide
          onClose={() => setAsked(null)}
        >
          <div className="pb-wide">
            <MaterialForm
              bookId={book.id}
              material={
                asked === "new" ? undefined : (book.materials.find(({ id }) => id === asked.id) ?? asked)
              }
              onClose={() => setAsked(null)}
            />
          </div>
        </Dialog>
      )}
    </Section>
  );
}

function Packs({ material: { packs, unit } }: { material: Material }) {
  if (packs.length === 0) return <Flag alarm>no price</Flag>;
  return (
    <ul className="pb-packs">
      {packs.map(({ size, price }) => (
        <li key={size}>
          <span className="quiet">{amountWords(size, unit)}</span> {money(price)}
        </li>
      ))}
    </ul>
  );
}

function PerUnit({ material: { packs, unit } }: { material: Material }) {
  const best = bestPack(packs);
  if (!best) return <span className="quiet">–</span>;
  return (
    <span>
      <b>${perUnit(best.size, best.price.cents)}</b>
      <small className="quiet block">{aUnit(unit)}</small>
    </span>
  );
}
