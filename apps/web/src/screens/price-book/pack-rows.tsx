import type { MaterialUnit } from "@ledgerboard/contracts/vocabulary";
import { type KeyboardEvent, useId } from "react";
import { Button } from "../../ui/button.tsx";
import type { FieldProps } from "../../ui/field.tsx";
import { money, words } from "../../ui/format.ts";
import { DecimalField, MoneyField } from "../../ui/number-fields.tsx";
import { aUnit } from "./book.ts";
import { amountWords, type PackDraft, readPacks } from "./packs.ts";
import { rowFaults } from "./row-faults.ts";
import { perUnit } from "./unit-cost.ts";
import { useRows } from "./use-rows.ts";

/** Packs as rows: size, price, and what a unit comes to. Enter goes on to the next row, or makes one. */
export function PackRows({
  unit,
  boards,
  problem,
  value: packs,
  onChange,
  error,
  theirs,
}: FieldProps<PackDraft[]> & { unit: MaterialUnit; boards: boolean; problem: unknown }) {
  const rows = useRows(packs, onChange, { size: null, cents: null });
  const { faults, at } = readPacks(packs);
  const shown = error ? { ...faults, ...rowFaults(problem, "packs", at) } : {};
  const heading = useId();
  const sized = boards ? "ft" : unit === "each" ? "pieces" : words(unit);
  const next = (event: KeyboardEvent<HTMLElement>, row: number) => {
    if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
    event.preventDefault();
    const inputs = [...(event.currentTarget.parentElement?.querySelectorAll("input") ?? [])];
    const following = inputs[inputs.indexOf(event.target) + 1];
    if (following) following.focus();
    else if (row === packs.length - 1) rows.add();
  };
  return (
    <fieldset className="pb-rows" aria-describedby={`${heading}-notes`}>
      <legend className="label">Packs it is sold in</legend>
      <p className="hint" id={`${heading}-notes`}>
        {boards ? "One row for each board length." : "One row for each pack size."} Enter goes on to the next
        field and adds a row at the end. Without a pack it has no price.
      </p>
      {packs.map((pack, row) => (
        // biome-ignore lint/a11y/noStaticElementInteractions: only keys that its fields pass on
        <div key={pack.key} className="pb-row pb-pack" onKeyDown={(event) => next(event, row)}>
          <DecimalField
            label={boards ? "Length" : "Holds"}
            suffix={sized}
            name={`packs.${row}.size`}
            value={pack.size}
            autoFocus={rows.isFresh(pack.key)}
            error={shown[`${row}.size`]}
            onChange={(size) => rows.change(pack.key, { size })}
          />
          <MoneyField
            label="Price"
            name={`packs.${row}.price`}
            value={pack.cents}
            error={shown[`${row}.price`]}
            onChange={(cents) => rows.change(pack.key, { cents })}
          />
          <p className="pb-each num">
            {pack.size !== null && Number(pack.size) > 0 && pack.cents !== null && (
              <>
                ${perUnit(pack.size, pack.cents)} <span className="quiet">{aUnit(unit)}</span>
              </>
            )}
          </p>
          <Button
            small
            kind="text"
            aria-label={`Take out pack ${row + 1}`}
            onPress={() => rows.remove(pack.key)}
          >
            Take out
          </Button>
        </div>
      ))}
      {error && !Object.keys(shown).length && <span className="field-error">{error}</span>}
      {theirs && (
        <p className="theirs">
          Saved meanwhile:{" "}
          {theirs.length === 0
            ? "no packs"
            : theirs
                .map(({ size, cents }) => `${amountWords(size ?? "0", unit)} ${money(cents ?? 0)}`)
                .join(", ")}
        </p>
      )}
      <div className="row">
        <Button small onPress={rows.add}>
          Add a pack
        </Button>
      </div>
    </fieldset>
  );
}
