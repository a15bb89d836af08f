import type { Unit } from "@ledgerboard/contracts/vocabulary";
import { Segment } from "../../ui/choices.tsx";
import { forOne, money, quantity, sentence, unitSuffix } from "../../ui/format.ts";
import { DecimalField, PercentField } from "../../ui/number-fields.tsx";
import {
  type AllowanceEdit,
  type AllowancePart,
  allowanceFaults,
  type Charged,
  expectedOf,
  noAllowance,
  withMost,
} from "./allowance.ts";
import type { Priced } from "./prices.ts";

const CHARGES = [
  { value: "as_counted", label: "as counted" },
  { value: "included", label: "in the price, at its expected amount" },
  { value: "if_found", label: "only if found, at the agreed unit price" },
] as const;

/** What is known of work nobody can see yet, how it is charged, and what that comes to while it is typed. */
export function AllowanceFields({
  value,
  onChange,
  likeliest,
  unit,
  priced,
  faults,
}: {
  value: AllowanceEdit | null;
  onChange: (value: AllowanceEdit | null) => void;
  /** The line's own quantity. */
  likeliest: string | null;
  unit: Unit;
  priced: Priced | null;
  faults: Partial<Record<AllowancePart, string>>;
}) {
  const set = (part: Partial<AllowanceEdit>) => value && onChange({ ...value, ...part });
  const suffix = unitSuffix(unit);
  const at = (part: AllowancePart) => faults[part] && sentence(faults[part]);
  return (
    <fieldset className="est-allowance">
      <legend className="label">What nobody can see yet</legend>
      <Segment<Charged | "as_counted">
        label="How concealed work is charged"
        options={CHARGES}
        value={value?.charge ?? "as_counted"}
        onChange={(charge) =>
          onChange(charge === "as_counted" ? null : value ? { ...value, charge } : noAllowance(charge))
        }
      />
      {!value && (
        <p className="hint">
          As counted: the amount above is priced as if it were sure to be there. An allowance says how likely
          it is.
        </p>
      )}
      {value && (
        <>
          <div className="est-bounds">
            <PercentField
              label="Chance that there is any"
              name="allowance.chanceBp"
              value={value.chanceBp}
              onChange={(chanceBp) => set({ chanceBp })}
              error={at("chanceBp")}
            />
            <DecimalField
              label="Least, if any"
              suffix={suffix}
              name="allowance.lowQuantity"
              value={value.lowQuantity}
              onChange={(lowQuantity) => set({ lowQuantity })}
              error={at("lowQuantity")}
            />
            <DecimalField
              label="Most"
              suffix={suffix}
              name="allowance.highQuantity"
              value={value.highQuantity}
              onChange={(most) => onChange(withMost(value, most))}
              error={at("highQuantity")}
            />
            <DecimalField
              label="Customer pays up to"
              suffix={suffix}
              name="allowance.capQuantity"
              value={value.capQuantity}
              onChange={(capQuantity) => set({ capQuantity })}
              error={at("capQuantity")}
            />
          </div>
          <Comes value={value} likeliest={likeliest} unit={unit} priced={priced} />
        </>
      )}
    </fieldset>
  );
}

/** What the allowance comes to: the expected amount, the agreed unit price, the cap. */
function Comes({
  value,
  likeliest,
  unit,
  priced,
}: {
  value: AllowanceEdit;
  likeliest: string | null;
  unit: Unit;
  priced: Priced | null;
}) {
  const sound = Object.keys(allowanceFaults(value, likeliest)).length === 0;
  const expected = sound ? expectedOf(value, likeliest) : null;
  if (expected === null)
    return <p className="hint">The likeliest amount stands above; all of it is needed for a price.</p>;
  const agreed = priced?.agreed;
  return (
    <p className="est-comes" role="status">
      Expected amount <b>{quantity(expected, unit)}</b>
      {value.charge === "included"
        ? ", and that is what the price holds."
        : ". Nothing of it is in the price."}
      {agreed && (
        <>
          {" "}
          Agreed unit price <b>{money(agreed.unitPriceCents)}</b> {forOne(unit)}, at most{" "}
          {quantity(agreed.capQuantity, unit)}, so no more than <b>{money(agreed.capCents)}</b>.
        </>
      )}
      {!agreed && " Without an assembly there is no agreed unit price."}
    </p>
  );
}
