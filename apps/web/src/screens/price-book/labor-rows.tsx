import type { PriceBook } from "@ledgerboard/contracts/price-book";
import type { Unit } from "@ledgerboard/contracts/vocabulary";
import { Button } from "../../ui/button.tsx";
import type { FieldProps } from "../../ui/field.tsx";
import { DecimalField } from "../../ui/number-fields.tsx";
import { Select } from "../../ui/select.tsx";
import { unitWord } from "./book.ts";
import { type LaborDraft, laborWords } from "./recipe-draft.ts";
import { useRows } from "./use-rows.ts";

const MOST = 10;

/** The labor of a recipe: who works it, how long for one unit, and how long once to set up. */
export function LaborRows({
  book,
  unit,
  faults,
  value: labor,
  onChange,
  theirs,
}: FieldProps<LaborDraft[]> & { book: PriceBook; unit: Unit; faults: Record<string, string> }) {
  const rows = useRows(labor, onChange, { code: "", hoursPerUnit: null, setupHours: "0" });
  const optionsFor = (code: string) => {
    const known = book.laborRates.map((rate) => ({ value: rate.code, label: rate.name }));
    return code === "" || known.some(({ value }) => value === code)
      ? known
      : [{ value: code, label: code }, ...known];
  };
  return (
    <fieldset className="pb-rows">
      <legend className="label">Labor</legend>
      {labor.length === 0 && <p className="hint">None: nobody’s hours are charged.</p>}
      {labor.map((row, i) => (
        <div key={row.key} className="pb-row pb-labor">
          <Select
            label="Worked by"
            name={`recipe.labor.${i}.code`}
            empty="choose"
            options={optionsFor(row.code)}
            value={row.code}
            error={faults[`${i}.code`]}
            onChange={(code) => rows.change(row.key, { code })}
          />
          <DecimalField
            label={`One ${unitWord(unit)}`}
            suffix="h"
            name={`recipe.labor.${i}.hoursPerUnit`}
            value={row.hoursPerUnit}
            error={faults[`${i}.hoursPerUnit`]}
            onChange={(hoursPerUnit) => rows.change(row.key, { hoursPerUnit })}
          />
          <DecimalField
            label="Set up, once"
            suffix="h"
            name={`recipe.labor.${i}.setupHours`}
            value={row.setupHours}
            error={faults[`${i}.setupHours`]}
            onChange={(setupHours) => rows.change(row.key, { setupHours })}
          />
          <Button
            small
            kind="text"
            aria-label={`Take out labor ${i + 1}`}
            onPress={() => rows.remove(row.key)}
          >
            Take out
          </Button>
        </div>
      ))}
      {theirs && (
        <div className="theirs">
          Saved meanwhile:
          {theirs.length === 0 ? " no labor" : null}
          {theirs.map((row) => (
            <div key={row.key}>{laborWords(row, book)}</div>
          ))}
        </div>
      )}
      <div className="row">
        <Button small isDisabled={labor.length >= MOST} onPress={rows.add}>
          Add labor
        </Button>
        {labor.length >= MOST && <span className="hint">At most {MOST} labor rates.</span>}
      </div>
    </fieldset>
  );
}
