import type { Assembly, PriceBook } from "@ledgerboard/contracts/price-book";
import { percent, words } from "../../ui/format.ts";
import { aUnit } from "./book.ts";
import { laborWords, materialWords, recipeDraft } from "./recipe-draft.ts";
import { WorkedExample } from "./worked-example.tsx";

/** An assembly for people who may not change it. */
export function AssemblyRead({ book, assembly }: { book: PriceBook; assembly: Assembly }) {
  const { unit, recipe, note } = assembly;
  const { materials, labor, disposal, equipment } = recipeDraft(recipe);
  return (
    <div className="pb-beside">
      <dl className="facts">
        <dt>Counted in</dt>
        <dd>{words(unit)}</dd>
        <dt>Materials {aUnit(unit)}</dt>
        <dd>
          {materials.length === 0 && "none"}
          {materials.map((row) => (
            <div key={row.key}>{materialWords(row, book)}</div>
          ))}
        </dd>
        <dt>Labor {aUnit(unit)}</dt>
        <dd>
          {labor.length === 0 && "none"}
          {labor.map((row) => (
            <div key={row.key}>{laborWords(row, book)}</div>
          ))}
        </dd>
        <dt>Hauling and tipping</dt>
        <dd>
          <PerUnit dollars={disposal} unit={unit} />
        </dd>
        <dt>Equipment</dt>
        <dd>
          <PerUnit dollars={equipment} unit={unit} />
        </dd>
        <dt>How far hours vary</dt>
        <dd>{percent(recipe.laborCvBp)}</dd>
        {note && (
          <>
            <dt>Note</dt>
            <dd className="kept-lines">{note}</dd>
          </>
        )}
      </dl>
      <WorkedExample book={book} recipe={recipe} unit={unit} />
    </div>
  );
}

function PerUnit({ dollars, unit }: { dollars: string; unit: Assembly["unit"] }) {
  return Number(dollars) === 0 ? "none" : `$${dollars} ${aUnit(unit)}`;
}
