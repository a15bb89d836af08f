import type { assessment as contract, Output } from "@ledgerboard/contracts";
import { add, divide, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { words } from "@ledgerboard/contracts/vocabulary";
import type { TenantDb } from "@ledgerboard/database";
import {
  type ComparedChoice,
  compareChoices,
  LIFE_CYCLE_DEFAULTS,
  LIVES,
  type MaterialChoice,
  type PricingTerms,
  priceLine,
  priceRebuild,
  scopeForNew,
} from "@ledgerboard/estimating";
import { usd } from "../money.ts";
import { listAssemblies, type ResolvedAssembly } from "../price-book/queries.ts";
import { type MeasuredZone, zonesOf } from "./assessment.ts";
import { type PricedRevision, readPriced } from "./queries.ts";

type Choices = Output<typeof contract.getChoices>;
type Life = (typeof LIVES)["finishes"][number];

/** The middle of a range of years, rounded down: upkeep that comes too early costs less than rot. */
const middle = ({ years }: Life): number => Math.max(1, Math.floor((years.low + years.high) / 2));

const lifeOf = (lives: readonly Life[], id: string): Life => {
  const life = lives.find((one) => one.id === id);
  if (!life) throw new Error(`shared/life-cycle.json has no ${id}.`);
  return life;
};
const FINISH = lifeOf(LIVES.finishes, "semitransparent_stain");
const WASH = lifeOf(LIVES.upkeep, "wash_composite");
const TREATED = lifeOf(LIVES.materials, "treated_decking");
const COMPOSITE = lifeOf(LIVES.materials, "composite_decking");

const isComposite = ({ rates }: ResolvedAssembly): boolean =>
  rates.materials.some((m) => /composite/i.test(`${m.name} ${m.section ?? ""}`));

const NOT_WOOD = /composite|aluminum|pvc|vinyl/i;

/**
 * The assemblies with those first that build what stands there again: wood before composite and metal, or for boards and
 * treads the other way round where the boards drawn are composite. Otherwise in the book's order.
 */
function likeForLike(
  assemblies: readonly ResolvedAssembly[],
  zones: readonly MeasuredZone[],
): ResolvedAssembly[] {
  const composite = zones.some(({ geometry }) => geometry?.decking?.thickness === "composite");
  const rank = ({ component, rates }: ResolvedAssembly): number => {
    const wanted = composite && (component === "decking" || component === "tread");
    return Number(rates.materials.some(({ name }) => NOT_WOOD.test(name)) !== wanted);
  };
  return assemblies.toSorted((a, b) => rank(a) - rank(b));
}

/** Decimal cents for a square foot, as a hundred of them would be priced. */
function perSqft(assembly: ResolvedAssembly, terms: PricingTerms): string {
  const { priceCents } = priceLine({ quantity: "100", by: "us", rates: assembly.rates }, terms);
  return toDecimal(divide(ratio(priceCents), ratio(100)), 4);
}

function upkeep(
  assemblies: readonly ResolvedAssembly[],
  action: "finish" | "clean",
  what: string,
  life: Life,
  terms: PricingTerms,
): MaterialChoice["upkeep"] {
  const found = assemblies.find((a) => a.component === "decking" && a.action === action && a.unit === "sqft");
  if (!found) return [];
  return [
    { words: what, unitCents: perSqft(found, terms), everyYears: middle(life), firstYear: middle(life) },
  ];
}

/** Every decking of the book that could be laid instead, with the upkeep and life of its kind. */
function deckingChoices(assemblies: readonly ResolvedAssembly[], terms: PricingTerms): MaterialChoice[] {
  return assemblies
    .filter((a) => a.component === "decking" && a.action === "replace" && a.unit === "sqft")
    .map((assembly) => {
      const composite = isComposite(assembly);
      const unitCents = perSqft(assembly, terms);
      return {
        name: assembly.description,
        unitCents,
        upkeep: composite
          ? upkeep(assemblies, "clean", "Washing", WASH, terms)
          : upkeep(assemblies, "finish", "Refinishing", FINISH, terms),
        service: { years: middle(composite ? COMPOSITE : TREATED), replaceUnitCents: unitCents },
      };
    });
}

/** Decking that the base scope replaces; where it replaces none, all that is there. */
function deckArea(priced: PricedRevision, areas: readonly (string | null)[]): string {
  const replaced = priced.lines.filter(
    (l) => l.standing === "base" && l.component === "decking" && l.action === "replace" && l.unit === "sqft",
  );
  const of = replaced.length > 0 ? replaced.map((l) => l.quantity) : areas.map((area) => area ?? "0");
  return toDecimal(add(ratio(0), ...of.map((q) => ratio(q))), 4);
}

const toLife = (choice: ComparedChoice): Choices["choices"][number] => ({
  name: choice.name,
  now: usd(choice.nowCents),
  presentValue: usd(choice.presentValueCents),
  undiscounted: usd(choice.overYearsCents),
  perYear: usd(choice.annualEquivalentCents),
  flows: choice.flows.map((flow) => ({
    year: flow.year,
    words: flow.words,
    cost: usd(flow.costCents),
    present: usd(flow.presentCents),
  })),
  breakEvenYear: choice.breakEvenYear,
});

function sayLife(life: Life): string {
  const { low, high } = life.years;
  const years = low === high ? (low === 1 ? "every year" : `${low} years`) : `${low} to ${high} years`;
  const taken = low === high ? "" : `, reckoned as ${middle(life)}`;
  return `${life.words}: ${years}${taken}. Source: ${life.source}.`;
}

const NOTES = [
  "Estimates for comparing, not promises: lives depend on shade, drainage and use.",
  "Life-cycle costs are in today's dollars, by the method of NIST Handbook 135: what comes later counts less by the real discount rate. Only the deck boards are compared, not the frame below.",
  ...[FINISH, WASH, TREATED, COMPOSITE].map(sayLife),
];

/** What a price book gone astray cannot be asked for is left out and said, so that the rest can still be read. */
function orWhyNot<T>(work: () => T): { value: T; why: null } | { value: null; why: string } {
  try {
    return { value: work(), why: null };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { value: null, why: error.message };
  }
}

/** The repair beside the same zones built new, and what each decking costs now and over the years. */
export async function readChoices(
  db: TenantDb,
  revisionId: string,
  query: { years?: number | undefined; discountBp?: number | undefined },
): Promise<Choices> {
  const priced = await readPriced(db, revisionId);
  const { revision } = priced;
  const zones = await zonesOf(db, revision.jobId);
  const assemblies = await listAssemblies(db, revision.priceBookId, { salt: revision.salt });
  const scope = zones.flatMap((zone) =>
    zone.geometry ? scopeForNew(zone.takeoff).map((s) => ({ zoneId: zone.id, ...s })) : [],
  );
  const prefer = priced.lines.flatMap((l) => l.assemblyCode ?? []);
  const { charges } = revision;
  const alike = likeForLike(assemblies, zones);
  const whole = orWhyNot(() =>
    priceRebuild({ scope, assemblies: alike, prefer, charges, repair: priced }, revision),
  );
  const rebuild = whole.value ?? priceRebuild({ scope: [], assemblies, repair: priced }, revision);
  const years = query.years ?? LIFE_CYCLE_DEFAULTS.years;
  const discountBp = query.discountBp ?? LIFE_CYCLE_DEFAULTS.discountBp;
  const areas = zones.flatMap((z) =>
    z.kind === "stair" || z.kind === "railing" ? [] : [z.takeoff.areaSqft],
  );
  const quantity = deckArea(priced, areas);
  const compared = orWhyNot(() => {
    const choices = deckingChoices(assemblies, revision);
    return choices.length > 0 && quantity !== "0"
      ? compareChoices({ choices, quantity, years, discountBp })
      : [];
  });
  return {
    zones: zones.map((zone) => {
      const beside = rebuild.zones.find((z) => z.zoneId === zone.id);
      const lines = rebuild.lines.filter((line) => line.zoneId === zone.id);
      const missing = rebuild.missing.flatMap(({ field, words: why }) => {
        const at = Number(/\d+/.exec(field)?.[0]);
        return scope[at]?.zoneId === zone.id ? [why] : [];
      });
      return {
        zoneId: zone.id,
        zone: zone.name,
        repair: usd(beside?.repairCents ?? 0),
        rebuild: lines.length > 0 ? usd(beside?.rebuildCents ?? 0) : null,
        shareBp: lines.length > 0 ? (beside?.shareBp ?? null) : null,
        lines: lines.map((line) => ({
          words: `${words(line.action)} ${words(line.component)}, ${line.quantity} ${words(line.unit)}${line.within ? `, in ${line.code}` : ""}`,
          how: scope.find((s) => s.zoneId === zone.id && s.component === line.component)?.how ?? "",
          price: usd(line.price.priceCents),
        })),
        missing: zone.geometry
          ? whole.why === null
            ? missing
            : [whole.why]
          : ["Nobody has measured this zone; measure it to price it new."],
      };
    }),
    repair: usd(priced.totals.priceCents),
    rebuild: whole.value && scope.length > 0 ? usd(whole.value.total.rebuildCents) : null,
    years,
    discountBp,
    deckSqft: quantity,
    choices: (compared.value ?? []).map(toLife),
    notes: compared.why === null ? NOTES : [...NOTES, compared.why],
  };
}
