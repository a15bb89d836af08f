import { fillNormal, fillUniform, jump, openStream, type Stream } from "./random.ts";
import type { LineRisk } from "./risk.ts";
import { triangularQuantile } from "./triangular.ts";

/** Cents and hours of every draw, unsorted. */
export interface Drawn {
  cents: Float64Array;
  hours: Float64Array;
}

interface Workspace {
  common: Float64Array;
  own: Float64Array;
  found: Float64Array;
  quantity: Float64Array;
}

/** Turns the normal numbers of `own` into labor factors with mean 1, correlated through `common`. */
function toFactors({ common, own }: Workspace, stream: Stream, spread: number, rho: number): void {
  if (spread === 0) {
    own.fill(1);
    return;
  }
  fillNormal(stream, own);
  const shared = spread * Math.sqrt(rho);
  const apart = spread * Math.sqrt(1 - rho);
  const shift = -(spread * spread) / 2;
  for (let i = 0; i < own.length; i++)
    own[i] = Math.exp(shared * (common[i] as number) + apart * (own[i] as number) + shift);
}

function addKnown(risk: LineRisk, { own }: Workspace, { cents, hours }: Drawn): void {
  const q = risk.quantity.low;
  const other = risk.otherUnitCents * q - risk.paidUnitCents * Math.min(q, risk.capQuantity);
  const labor = risk.laborUnitCents * q + risk.laborSetupCents;
  const time = risk.unitHours * q + risk.setupHours;
  for (let i = 0; i < own.length; i++) {
    const factor = own[i] as number;
    cents[i] = (cents[i] as number) + other + labor * factor;
    hours[i] = (hours[i] as number) + time * factor;
  }
}

function addConcealed(risk: LineRisk, work: Workspace, { cents, hours }: Drawn): void {
  const { own, found, quantity } = work;
  for (let i = 0; i < own.length; i++) {
    if ((found[i] as number) >= risk.chance) continue;
    const q = triangularQuantile(quantity[i] as number, risk.quantity);
    const factor = own[i] as number;
    const paid = risk.paidUnitCents * Math.min(q, risk.capQuantity);
    const labor = (risk.laborUnitCents * q + risk.laborSetupCents) * factor;
    cents[i] = (cents[i] as number) + risk.otherUnitCents * q - paid + labor;
    hours[i] = (hours[i] as number) + (risk.unitHours * q + risk.setupHours) * factor;
  }
}

/**
 * Draws the cost and hours of the risks `draws` times. Each line has a stream of its own, so that a change to one line
 * leaves the draws of the others as they were.
 */
export function drawCosts(
  risks: readonly LineRisk[],
  fixedCents: number,
  { draws, seed, rho }: { draws: number; seed: number; rho: number },
): Drawn {
  const drawn = { cents: new Float64Array(draws).fill(fixedCents), hours: new Float64Array(draws) };
  const work: Workspace = {
    common: new Float64Array(draws),
    own: new Float64Array(draws),
    found: new Float64Array(draws),
    quantity: new Float64Array(draws),
  };
  const parting = openStream(seed);
  fillNormal(parting.slice(), work.common);
  for (const risk of risks) {
    jump(parting);
    const stream = parting.slice();
    const known = risk.chance === 1 && risk.quantity.low === risk.quantity.high;
    if (!known) {
      fillUniform(stream, work.found);
      fillUniform(stream, work.quantity);
    }
    toFactors(work, stream, risk.spread, rho);
    if (known) addKnown(risk, work, drawn);
    else addConcealed(risk, work, drawn);
  }
  return drawn;
}
