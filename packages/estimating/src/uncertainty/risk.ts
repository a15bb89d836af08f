import { add, basisPoints, multiply, type Ratio, ratio } from "@ledgerboard/contracts/money";
import { EstimateInputError, type InputFinding } from "../input-error.ts";
import { type AgreedPrice, type Allowance, allowanceFindings } from "../pricing/allowance.ts";
import type { LinePrice, LineTerms } from "../pricing/line.ts";
import { type LineRates, unitCents } from "../pricing/rates.ts";
import type { RevisionLine, Standing } from "../pricing/revision.ts";
import type { Triangle } from "./triangular.ts";

/** What of a priced revision its cost is simulated from: the result of priceRevision has it. */
export interface CostedRevision {
  terms: Pick<LineTerms, "overheadBp" | "materialTaxBp">;
  lines: readonly (RevisionLine & {
    price: Pick<LinePrice, "costCents" | "laborCents" | "hours">;
    standing: Standing;
    agreed: AgreedPrice | null;
  })[];
  charges: readonly { price: Pick<LinePrice, "costCents"> }[];
  adjustments: readonly { price: Pick<LinePrice, "costCents"> }[];
}

/**
 * One line as chance decides it. Cost = found x (q x other + (q x labor + set-up) x f - paid x min(q, cap)), with
 * `found` 1 or 0, q triangular and f lognormal with mean 1. Cents, with overhead; hours.
 */
export interface LineRisk {
  chance: number;
  quantity: Triangle;
  otherUnitCents: number;
  laborUnitCents: number;
  laborSetupCents: number;
  unitHours: number;
  setupHours: number;
  /** What the customer pays a unit where the work is charged only if found, up to `capQuantity`; else 0. */
  paidUnitCents: number;
  capQuantity: number;
  /** Standard deviation of the logarithm of f. */
  spread: number;
}

/** Labor that may be off by more than three times its mean is a slip. Common practice, no source. */
const MAX_CV_BP = 30_000;

const toNumber = ({ num, den }: Ratio) => Number(num) / Number(den);
const share = (bp: number) => toNumber(basisPoints(bp));
const sum = (parts: readonly Ratio[]) => toNumber(add(ratio(0), ...parts));

/** Spread of the logarithm of a lognormal number with this coefficient of variation: ln(1 + cv^2) is its square. */
const logSpread = (cvBp: number) => Math.sqrt(Math.log1p(share(cvBp) ** 2));

/** A line whose quantity is known: its cost as priced, of which the labor varies and takes its overhead with it. */
function knownRisk({ price }: CostedRevision["lines"][number], rates: LineRates, overhead: number): LineRisk {
  const laborUnitCents = price.laborCents * (1 + overhead);
  return {
    chance: 1,
    quantity: { low: 1, likely: 1, high: 1 },
    otherUnitCents: price.costCents - laborUnitCents,
    laborUnitCents,
    laborSetupCents: 0,
    unitHours: Number(price.hours),
    setupHours: 0,
    paidUnitCents: 0,
    capQuantity: 0,
    spread: logSpread(rates.laborCvBp),
  };
}

/** A line with an allowance: what is there is drawn anew, and costs by the unit what the line's rates say. */
function concealedRisk(
  { quantity, agreed }: CostedRevision["lines"][number],
  rates: LineRates,
  allowance: Allowance,
  terms: CostedRevision["terms"],
): LineRisk {
  const burdened = (use: LineRates["labor"][number], hours: string) =>
    multiply(ratio(hours), ratio(use.hourlyCents), basisPoints(10_000 + use.burdenBp));
  const materials = rates.materials.map((use) =>
    multiply(ratio(use.perUnit), basisPoints(10_000 + use.wasteBp), unitCents(use.packs) ?? ratio(0)),
  );
  const overhead = 1 + share(terms.overheadBp);
  const perUnit = Number(rates.disposalUnitCents) + Number(rates.equipmentUnitCents);
  const high = Number(allowance.highQuantity);
  return {
    chance: high === 0 ? 0 : share(allowance.chanceBp),
    quantity: { low: Number(allowance.lowQuantity), likely: Number(quantity), high },
    otherUnitCents: (sum(materials) * (1 + share(terms.materialTaxBp)) + perUnit) * overhead,
    laborUnitCents: sum(rates.labor.map((use) => burdened(use, use.hoursPerUnit))) * overhead,
    laborSetupCents: sum(rates.labor.map((use) => burdened(use, use.setupHours))) * overhead,
    unitHours: sum(rates.labor.map((use) => ratio(use.hoursPerUnit))),
    setupHours: sum(rates.labor.map((use) => ratio(use.setupHours))),
    paidUnitCents: allowance.charge === "if_found" ? (agreed?.unitPriceCents ?? 0) : 0,
    capQuantity: Number(allowance.capQuantity),
    spread: logSpread(rates.laborCvBp),
  };
}

function decimalFindings(field: string, text: string): InputFinding[] {
  try {
    return ratio(text).num < 0n ? [{ field, words: "May not be less than nothing." }] : [];
  } catch {
    return [{ field, words: `Must be a number such as 12.5; got "${text}".` }];
  }
}

function lineFindings(line: RevisionLine, rates: LineRates, at: string): InputFinding[] {
  const findings: InputFinding[] = [];
  const cv = rates.laborCvBp;
  if (!Number.isInteger(cv) || cv < 0 || cv > MAX_CV_BP)
    findings.push({
      field: `${at}.rates.laborCvBp`,
      words: `How far the labor hours vary must be from 0% to ${MAX_CV_BP / 100}%, in whole basis points; got ${cv}.`,
    });
  if (!line.allowance) return findings;
  const { lowQuantity, highQuantity, capQuantity } = line.allowance;
  const wrong = [
    ...decimalFindings(`${at}.quantity`, line.quantity),
    ...Object.entries({ lowQuantity, highQuantity, capQuantity }).flatMap(([name, text]) =>
      decimalFindings(`${at}.allowance.${name}`, text),
    ),
  ];
  if (wrong.length > 0) return [...findings, ...wrong];
  const more = allowanceFindings(line.quantity, line.allowance);
  return [...findings, ...more.map(({ field, words }) => ({ field: `${at}.${field}`, words }))];
}

/**
 * The lines that cost or may cost something in the base scope, in order, with what chance decides of each. Lines of
 * an optional extra are left out, also those charged only if found. Throws EstimateInputError naming each faulty field.
 */
export function lineRisks({ lines, terms }: CostedRevision): LineRisk[] {
  if (!terms)
    throw new EstimateInputError([
      { field: "terms", words: "Say the terms that the revision was priced with." },
    ]);
  const findings: InputFinding[] = [];
  const risks: LineRisk[] = [];
  for (const [i, line] of lines.entries()) {
    const { rates, allowance, standing } = line;
    const counts = standing === "base" || (standing === "if_found" && !line.alternate);
    if (!counts || !rates) continue;
    const wrong = lineFindings(line, rates, `lines[${i}]`);
    findings.push(...wrong);
    if (wrong.length > 0) continue;
    risks.push(
      allowance
        ? concealedRisk(line, rates, allowance, terms)
        : knownRisk(line, rates, share(terms.overheadBp)),
    );
  }
  if (findings.length > 0) throw new EstimateInputError(findings);
  return risks;
}
