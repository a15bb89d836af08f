import { add, basisPoints, divide, formatMoney, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { expectedQuantity } from "./allowance.ts";
import { chargedRates, type LinePrice, type LineTerms, laborOf, materialCents, priceLine } from "./line.ts";
import { costShare } from "./margin.ts";
import { percent } from "./percent.ts";
import type { LaborUse, MaterialUse } from "./rates.ts";
import { unitCents } from "./rates.ts";
import { type Adjustment, type Charge, priceCharge, type RevisionLine, standingOf } from "./revision.ts";

/** One step from quantity to price: what it is, the arithmetic in figures, and the cents it adds. */
export interface UnfoldedRow {
  label: string;
  formula: string;
  cents: number;
}

const asShare = (bp: number) => toDecimal(basisPoints(bp));
const oneAnd = (bp: number) => toDecimal(add(ratio(1), basisPoints(bp)));
const plain = (text: string) => toDecimal(ratio(text), 6);

/** Unit costs may carry fractions of a cent: "285.5" cents is "$2.855". */
function unitCost(cents: string): string {
  const exact = ratio(cents);
  if (exact.num % exact.den === 0n) return formatMoney(Number(exact.num / exact.den));
  return `$${toDecimal(divide(exact, ratio(100)), 8)}`;
}

/** What a unit of a material costs, as it is sold: "$2.85" or "$18.99 ÷ 350". */
function packCost({ packs }: MaterialUse): string {
  const each = unitCents(packs);
  const pack = packs.find(({ size, cents }) => {
    const own = divide(ratio(cents), ratio(size));
    return each !== null && own.num * each.den === each.num * own.den;
  });
  if (!pack) return "no price";
  const size = plain(pack.size);
  return size === "1" ? formatMoney(pack.cents) : `${formatMoney(pack.cents)} ÷ ${size}`;
}

function materialRow(quantity: string, use: MaterialUse, cents: number): UnfoldedRow {
  const factors = [quantity, ...(plain(use.perUnit) === "1" ? [] : [plain(use.perUnit)])];
  if (use.wasteBp > 0) factors.push(oneAnd(use.wasteBp));
  return {
    label: `${use.name}${use.wasteBp > 0 ? ` with ${percent(use.wasteBp)} waste` : ""}`,
    formula: `${factors.join(" × ")} × ${packCost(use)}`,
    cents,
  };
}

function laborRow(quantity: string, use: LaborUse, hours: string, cents: number): UnfoldedRow {
  const setup = plain(use.setupHours) === "0" || quantity === "0" ? "" : ` + ${plain(use.setupHours)} h`;
  return {
    label: `Labor at ${use.code} with ${percent(use.burdenBp)} burden`,
    formula:
      `${quantity} × ${plain(use.hoursPerUnit)} h${setup} = ${hours} h; ` +
      `${hours} h × ${formatMoney(use.hourlyCents)} × ${oneAnd(use.burdenBp)}`,
    cents,
  };
}

function perUnitRow(label: string, quantity: string, cents: string, total: number): UnfoldedRow[] {
  return ratio(cents).num === 0n
    ? []
    : [{ label, formula: `${quantity} × ${unitCost(cents)}`, cents: total }];
}

function overheadAndMargin(
  price: { materialCents: number; overheadCents: number; costCents: number; priceCents: number },
  terms: LineTerms,
): [overhead: UnfoldedRow, margin: UnfoldedRow] {
  const cost = formatMoney(price.costCents);
  return [
    {
      label: `Overhead, ${percent(terms.overheadBp)} of direct cost`,
      formula: `${formatMoney(price.costCents - price.overheadCents)} × ${asShare(terms.overheadBp)}`,
      cents: price.overheadCents,
    },
    {
      label: `Margin, ${percent(terms.marginBp)} of the price`,
      formula: `${cost} ÷ ${toDecimal(costShare(terms.marginBp))} − ${cost}`,
      cents: price.priceCents - price.costCents,
    },
  ];
}

const taxRow = (price: { materialCents: number; taxCents: number }, terms: LineTerms): UnfoldedRow => ({
  label: `Sales tax on material, ${percent(terms.materialTaxBp)}`,
  formula: `${formatMoney(price.materialCents)} × ${asShare(terms.materialTaxBp)}`,
  cents: price.taxCents,
});

/** Why a line adds nothing to the price, or null when it does. */
function outside(line: RevisionLine): string | null {
  const standing = standingOf(line);
  if (standing === "if_found") return "Charged only if found, at the agreed unit price";
  if (standing === "unpriced") return "No rates: not in the price";
  if (standing === "not_ours") return `${line.by === "owner" ? "By owner" : "By others"}: not in the price`;
  return null;
}

/**
 * Every cent of a line's price as quantity x rate x rule, in figures a person can redo: each material, tax, each labor
 * rate, disposal and equipment where there are any, overhead and margin. The rows sum to the price; a line outside the
 * price has one row that says why. An allowance inside the price starts with how its expected quantity came about.
 * Throws RangeError as priceLine does.
 */
export function unfoldLine(line: RevisionLine, terms: LineTerms): UnfoldedRow[] {
  const why = outside(line);
  const rates = chargedRates(line);
  if (why !== null || !rates) {
    priceLine({ ...line, rates: null }, terms);
    return [{ label: why ?? "No rates: not in the price", formula: "", cents: 0 }];
  }
  const rows: UnfoldedRow[] = [];
  let { quantity } = line;
  if (line.allowance?.charge === "included") {
    const { allowance } = line;
    const [low, likely, high] = [allowance.lowQuantity, quantity, allowance.highQuantity].map(plain);
    quantity = expectedQuantity(quantity, allowance);
    rows.push({
      label: "Expected quantity of what cannot be seen",
      formula: `${asShare(allowance.chanceBp)} × (${low} + ${likely} + ${high}) ÷ 3 = ${quantity}`,
      cents: 0,
    });
  }
  const price = priceLine({ ...line, quantity }, terms);
  const exact = ratio(quantity);
  const shown = plain(quantity);
  const materials = materialCents(exact, rates);
  rows.push(...rates.materials.map((use, i) => materialRow(shown, use, materials[i] ?? 0)));
  if (rates.materials.length > 0) rows.push(taxRow(price, terms));
  for (const [i, { hours, cents }] of laborOf(exact, rates).entries()) {
    const use = rates.labor[i];
    if (use) rows.push(laborRow(shown, use, toDecimal(hours), cents));
  }
  rows.push(...perUnitRow("Hauling away and tipping", shown, rates.disposalUnitCents, price.disposalCents));
  rows.push(...perUnitRow("Equipment", shown, rates.equipmentUnitCents, price.equipmentCents));
  rows.push(...overheadAndMargin(price, terms));
  return rows;
}

/** Every cent of a cost of the whole job: the cost, and overhead and margin unless it is passed on at cost. */
export function unfoldCharge(charge: Charge, terms: LineTerms): UnfoldedRow[] {
  const price = priceCharge(charge, terms);
  const rows = [{ label: charge.words, formula: formatMoney(charge.costCents), cents: charge.costCents }];
  return charge.atCost ? rows : [...rows, ...overheadAndMargin(price, terms)];
}

/** Tax, overhead and margin on all base lines together, less what the lines carry of them one by one. */
function priceAgain(price: LinePrice, before: LinePrice, after: LinePrice, terms: LineTerms): UnfoldedRow[] {
  const less = (cents: number) => ` − ${formatMoney(cents)}`;
  const tax = taxRow(after, terms);
  const [overhead, margin] = overheadAndMargin(after, terms);
  const carried = before.priceCents - before.costCents;
  return [
    { label: tax.label, formula: tax.formula + less(before.taxCents), cents: price.taxCents },
    {
      label: overhead.label,
      formula: overhead.formula + less(before.overheadCents),
      cents: price.overheadCents,
    },
    {
      label: margin.label,
      formula: margin.formula + less(carried),
      cents: price.priceCents - price.costCents,
    },
  ];
}

/** Every cent that the whole job adds to its lines and charges. */
export function unfoldAdjustment(adjustment: Adjustment, terms: LineTerms): UnfoldedRow[] {
  if (adjustment.kind === "whole_packs") {
    const { price, purchases } = adjustment;
    const rows = purchases.map(({ name, packs, packsCents, usedCents, leftoverCents }) => ({
      label: `${name}: ${packs.map((p) => `${p.count} × ${plain(p.size)}`).join(" + ")}`,
      formula: `${formatMoney(packsCents)} − ${formatMoney(usedCents)}`,
      cents: leftoverCents,
    }));
    return [...rows, ...priceAgain(price, adjustment.before, adjustment.after, terms)];
  }
  const { price, beforeCents } = adjustment;
  const to = formatMoney(beforeCents + price.priceCents);
  const label = adjustment.kind === "minimum_charge" ? `Minimum charge, ${to}` : `Rounded up to ${to}`;
  return [{ label, formula: `${to} − ${formatMoney(beforeCents)}`, cents: price.priceCents }];
}
