import type { PriceBook, Recipe } from "@ledgerboard/contracts/price-book";
import type { MaterialUnit, Unit } from "@ledgerboard/contracts/vocabulary";
import type { Purchase } from "@ledgerboard/estimating";
import { useDeferredValue, useMemo, useState } from "react";
import { Segment } from "../../ui/choices.tsx";
import { Flag } from "../../ui/flag.tsx";
import { hours, money, percent, plural, quantity, words } from "../../ui/format.ts";
import { DecimalField } from "../../ui/number-fields.tsx";
import { aUnit } from "./book.ts";
import { EXAMPLE_QUANTITY, type Example, workExample } from "./example.ts";
import { amountWords } from "./packs.ts";
import { PriceRows } from "./price-rows.tsx";

interface Props {
  book: PriceBook;
  recipe: Recipe;
  unit: Unit;
  /** How many rows are not whole yet and so not in `recipe`. */
  leftOut?: number;
}

/** What a quantity of the recipe costs, row by row, as it is being typed. */
export function WorkedExample({ book, recipe, unit, leftOut = 0 }: Props) {
  const [asked, setAsked] = useState<{ unit: Unit; quantity: string | null }>({
    unit,
    quantity: EXAMPLE_QUANTITY[unit],
  });
  const [where, setWhere] = useState<"away" | "salt">("away");
  // Another unit asks for another quantity.
  if (asked.unit !== unit) setAsked({ unit, quantity: EXAMPLE_QUANTITY[unit] });
  const fault =
    asked.quantity === null || Number(asked.quantity) <= 0
      ? "More than 0."
      : Number(asked.quantity) > 100_000
        ? "At most 100,000."
        : undefined;
  const told = useDeferredValue(JSON.stringify(recipe));
  const worked = useMemo(
    () =>
      fault || asked.quantity === null
        ? null
        : workExample(JSON.parse(told) as Recipe, book, { quantity: asked.quantity, salt: where === "salt" }),
    [told, book, asked.quantity, where, fault],
  );
  return (
    <aside className="pb-worked pb-example-panel" aria-label="Worked example">
      <h2>Worked example</h2>
      <div className="pb-example-ask no-print">
        <DecimalField
          label="Quantity"
          name="example-quantity"
          suffix={unit === "each" ? "pieces" : words(unit)}
          value={asked.quantity}
          error={fault}
          onChange={(next) => setAsked({ unit, quantity: next })}
        />
        <Segment
          label="Where the house stands"
          value={where}
          onChange={setWhere}
          options={[
            { value: "away", label: "Away from salt" },
            { value: "salt", label: "Near salt" },
          ]}
        />
      </div>
      {leftOut > 0 && (
        <p className="quiet">
          Without {plural(leftOut, "row that is", "rows that are")} not finished or not right yet.
        </p>
      )}
      {worked && "words" in worked && <p className="notice alarm">{worked.words}</p>}
      {worked && "findings" in worked && (
        <div className="notice alarm">
          <p>The book lacks something the recipe names:</p>
          <ul>
            {worked.findings.map(({ field, words: what }) => (
              <li key={field}>{what}</li>
            ))}
          </ul>
        </div>
      )}
      {worked && "example" in worked && (
        <Figures
          book={book}
          unit={unit}
          example={worked.example}
          quantityText={quantity(asked.quantity ?? "0", unit)}
        />
      )}
    </aside>
  );
}

function Figures({
  book,
  unit,
  example,
  quantityText,
}: {
  book: PriceBook;
  unit: Unit;
  example: Example;
  quantityText: string;
}) {
  return (
    <>
      <p className="pb-sum" role="status">
        <b>{money(example.priceCents)}</b> for {quantityText}, {money(example.eachCents)} {aUnit(unit)};{" "}
        {hours(example.hours)} of work.
      </p>
      <PriceRows
        caption={`Every cent of it, at ${percent(book.overheadBp)} overhead and ${percent(book.marginBp)} margin`}
        rows={example.rows}
        total="Price"
      />
      <h3>Packs to buy</h3>
      {example.purchases.length === 0 ? (
        <p className="quiet">It takes no material.</p>
      ) : (
        <ul className="pb-buy">
          {example.purchases.map((one) => (
            <li key={one.code}>
              <Buy purchase={one} />
            </li>
          ))}
        </ul>
      )}
      <p className="quiet">
        <small>
          {example.leftoverCents > 0 &&
            `If this were the whole job, what is left over of whole packs would add ${money(example.leftoverCents)}. `}
          Left-over packs, the minimum charge and the rounding come once, on the whole estimate.
        </small>
      </p>
    </>
  );
}

function Buy({ purchase }: { purchase: Purchase }) {
  const { name, needed, packs, packsCents, wholePacks } = purchase;
  const said = (amount: string) => amountWords(amount, purchase.unit as MaterialUnit);
  return (
    <>
      <span>
        {name}
        <small className="quiet block">
          takes {said(needed)}
          {wholePacks ? "" : "; from stock, as used"}
        </small>
      </span>
      <span className="num">
        {packs.length === 0 ? (
          <Flag alarm>no price</Flag>
        ) : (
          <>
            {packs.map(({ count, size }) => `${count} × ${said(size)}`).join(" + ")}
            <small className="quiet block">{money(packsCents)}</small>
          </>
        )}
      </span>
    </>
  );
}
