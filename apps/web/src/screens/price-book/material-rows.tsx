import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { Unit } from "@ledgerboard/contracts/vocabulary";
import { useMemo } from "react";
import { Button } from "../../ui/button.tsx";
import type { FieldProps } from "../../ui/field.tsx";
import { words } from "../../ui/format.ts";
import { DecimalField, PercentField } from "../../ui/number-fields.tsx";
import { Picker } from "../../ui/picker.tsx";
import { unitWord } from "./book.ts";
import { type MaterialDraft, materialWords } from "./recipe-draft.ts";
import { useRows } from "./use-rows.ts";

const MOST = 30;

/** The materials of a recipe, each with what takes its place near salt. */
export function MaterialRows({
  book,
  unit,
  faults,
  value: materials,
  onChange,
  theirs,
}: FieldProps<MaterialDraft[]> & {
  book: PriceBook;
  unit: Unit;
  /** Words by row and field: "0.code". */
  faults: Record<string, string>;
}) {
  const rows = useRows(materials, onChange, { code: "", inSalt: "", perUnit: null, wasteBp: 0 });
  const options = useMemo(
    () =>
      book.materials
        .filter(({ retired }) => !retired)
        .map(({ code, name }) => ({ value: code, label: name, note: code }))
        .toSorted((a, b) => a.label.localeCompare(b.label)),
    [book.materials],
  );
  /** A retired one that the recipe still names stays choosable where it is. */
  const optionsFor = (code: string) => {
    const old = book.materials.find((one) => one.code === code && one.retired);
    return old ? [{ value: code, label: `${old.name}, retired`, note: code }, ...options] : options;
  };
  const unitOf = (code: string) => {
    const own = book.materials.find((one) => one.code === code)?.unit;
    return own === "each" ? "pieces" : own && words(own);
  };
  return (
    <fieldset className="pb-rows">
      <legend className="label">Materials for one {unitWord(unit)}</legend>
      {materials.length === 0 && <p className="hint">None: work without material.</p>}
      {materials.map((row, i) => (
        <div key={row.key} className="pb-row pb-material">
          <Picker
            label="Material"
            name={`recipe.materials.${i}.code`}
            placeholder="type a word or the code"
            options={optionsFor(row.code)}
            value={row.code}
            autoFocus={rows.isFresh(row.key)}
            error={faults[`${i}.code`]}
            onChange={(code) => rows.change(row.key, { code })}
          />
          <DecimalField
            label="Amount"
            suffix={unitOf(row.code) ?? ""}
            name={`recipe.materials.${i}.perUnit`}
            value={row.perUnit}
            error={faults[`${i}.perUnit`]}
            onChange={(perUnit) => rows.change(row.key, { perUnit })}
          />
          <PercentField
            label="Waste"
            name={`recipe.materials.${i}.wasteBp`}
            value={row.wasteBp}
            error={faults[`${i}.wasteBp`]}
            onChange={(wasteBp) => rows.change(row.key, { wasteBp })}
          />
          <Picker
            label="Near salt, instead"
            name={`recipe.materials.${i}.inSalt`}
            placeholder="the same"
            options={optionsFor(row.inSalt)}
            value={row.inSalt}
            error={faults[`${i}.inSalt`]}
            onChange={(inSalt) => rows.change(row.key, { inSalt })}
          />
          <Button
            small
            kind="text"
            aria-label={`Take out material ${i + 1}`}
            onPress={() => rows.remove(row.key)}
          >
            Take out
          </Button>
        </div>
      ))}
      {theirs && (
        <div className="theirs">
          Saved meanwhile:
          {theirs.length === 0 ? " no materials" : null}
          {theirs.map((row) => (
            <div key={row.key}>{materialWords(row, book)}</div>
          ))}
        </div>
      )}
      <div className="row">
        <Button small isDisabled={materials.length >= MOST} onPress={rows.add}>
          Add a material
        </Button>
        {materials.length >= MOST && <span className="hint">At most {MOST} materials.</span>}
      </div>
    </fieldset>
  );
}
