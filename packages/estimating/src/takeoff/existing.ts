import { lengthWords } from "@ledgerboard/contracts/measure";
import { add, type Ratio, toDecimal } from "@ledgerboard/contracts/money";
import { COMPONENTS, type Component, type Unit } from "@ledgerboard/contracts/vocabulary";
import { feetText, sum } from "./lengths.ts";
import type { Measured } from "./measured.ts";
import { FASTENERS_PER_CROSSING } from "./sizes.ts";
import type { Existing } from "./types.ts";

/** Square inches, multiples of 1/256, as exact square feet. */
const squareFeet = (squareInches: number): Ratio => ({
  num: BigInt(Math.round(squareInches * 256)),
  den: 36_864n,
});

/** "26 x 12 ft 2 in + 2 x 3 ft"; from the fourth length on only their number. */
function listLengths(lengthsIn: readonly number[]): string {
  const counts = new Map<number, number>();
  for (const lengthIn of lengthsIn) counts.set(lengthIn, (counts.get(lengthIn) ?? 0) + 1);
  const parts = [...counts].sort(([a, m], [b, n]) => n - m || b - a);
  const said = parts.slice(0, 3).map(([lengthIn, count]) => `${count} x ${lengthWords(lengthIn)}`);
  const rest = sum(parts.slice(3).map(([, count]) => count));
  return [...said, ...(rest > 0 ? [`${rest} of other lengths`] : [])].join(" + ");
}

/** Fasteners of the boards and of the treads, which cross every stringer. */
function fasteners({ deck, stairs }: Measured): { each: number; how: string } | null {
  const treads = sum(stairs.map((s) => s.treadBoards * s.stringers));
  const crossings = deck?.crossings ?? null;
  if (crossings === null && treads === 0) return null;
  const parts = [
    ...(crossings ? [`${crossings} board bearings`] : []),
    ...(treads > 0 ? [`${treads} tread board bearings on stringers`] : []),
  ];
  return {
    each: FASTENERS_PER_CROSSING * ((crossings ?? 0) + treads),
    how: `${FASTENERS_PER_CROSSING} at each of ${parts.join(" and ")}; joints between boards take ${FASTENERS_PER_CROSSING} more each`,
  };
}

/** What a coat covers: floor, treads, fronts of closed risers, and both faces of guards taken as solid. */
function finish(m: Measured): { area: Ratio; how: string } | null {
  const floor = m.floored ? m.area : null;
  const treads = squareFeet(sum(m.stairs.map((s) => s.treads * s.widthIn * s.treadDepthIn)));
  const risers = squareFeet(
    sum(m.stairs.map((s) => (s.closedRisers ? s.widthIn * s.riserHeightIn * s.risers : 0))),
  );
  const guards = squareFeet(sum(m.guards.map((g) => (g.infill === "none" ? 0 : 2 * g.runIn * g.heightIn))));
  const parts = (
    [
      [floor, "of floor"],
      [treads, "of treads"],
      [risers, "of risers"],
      [guards, "of guards, both faces taken as solid"],
    ] as const
  ).flatMap(([area, what]) => (area && area.num > 0n ? [{ area, what }] : []));
  if (parts.length === 0) return null;
  return {
    area: add(...parts.map((p) => p.area)),
    how: parts.map(({ area, what }) => `${toDecimal(area, 1)} sq ft ${what}`).join(" + "),
  };
}

/** Lattice between the posts of guards filled with it, in square inches. */
export const latticeSquareInches = ({ guards }: Measured): number =>
  sum(guards.map((g) => (g.infill === "lattice" ? g.sections * g.clearWidthIn * g.heightIn : 0)));

/** How much of each component is there, in every unit a scope line may use; in the order of the trade's list. */
export function listExisting(m: Measured): Existing[] {
  const found: Existing[] = [];
  const put = (component: Component, unit: Unit, quantity: string, how: string) => {
    if (!/^0(\.0+)?$/.test(quantity)) found.push({ component, unit, quantity, how });
  };
  const each = (component: Component, count: number, how: string) => put(component, "each", `${count}`, how);
  const boards = (component: Component, lengthsIn: readonly number[] | null, extra = "") => {
    if (!lengthsIn) return;
    const how = `${listLengths(lengthsIn)}${extra}`;
    each(component, lengthsIn.length, how);
    put(component, "lf", feetText(sum(lengthsIn)), how);
  };

  const { surface, geometry, frame, deck, guards, stairs } = m;
  if (surface && m.floored && m.areaSqft) {
    const holes = surface.holes.length;
    const cut = holes > 0 ? ` less ${holes} cut-out${holes > 1 ? "s" : ""}` : "";
    put("decking", "sqft", m.areaSqft, `${surface.words}${cut}`);
    if (deck?.crossings) put("fastener", "sqft", m.areaSqft, "by the area of the boards they hold");
  }
  if (deck) {
    const border = deck.borderIn.length > 0 ? `, ${deck.borderIn.length} of them border boards` : "";
    const lengths = [...deck.boardRows.map((row) => row.lengthIn), ...deck.borderIn];
    boards("decking", lengths, ` (${deck.rows} rows${border})`);
  }
  const posts = geometry?.framing?.posts ?? 0;
  each("post", posts, "as drawn");
  each("footing", posts, "one under each post");
  if (m.heightIn !== null)
    put(
      "post",
      "lf",
      feetText(posts * m.heightIn),
      `${posts} x ${lengthWords(m.heightIn)}, the height of the deck`,
    );
  if (frame) {
    const headers = frame.headersIn.length;
    const withHeaders = headers > 0 ? `, ${headers} of them headers at cut-outs` : "";
    boards("joist", frame.joistsIn && [...frame.joistsIn, ...frame.headersIn], withHeaders);
    boards("rim_joist", frame.rimsIn);
    boards("beam", frame.beamsIn, "; plies not counted");
    boards("ledger", frame.ledgersIn);
    put("flashing", "lf", feetText(sum(frame.ledgersIn)), "along the ledger");
    if (frame.hangers !== null) each("joist_hanger", frame.hangers, frame.hangersHow);
  }
  const runs = guards.map((g) => g.runIn).filter((runIn) => runIn > 0);
  put(
    "rail",
    "lf",
    feetText(sum(runs)),
    `${listLengths(runs)} of railing, measured along its run, gates left out`,
  );
  each("rail", sum(guards.map((g) => g.railsIn.length)), "rails in all sections");
  each(
    "guard_post",
    sum(guards.map((g) => g.posts)),
    "one more than sections and gates in each run, shared ones once",
  );
  boards(
    "rail_cap",
    guards.flatMap((g) => g.capsIn),
  );
  each("gate", sum(guards.map((g) => g.gates)), "as drawn");
  const filled = guards.filter((g) => g.balustersPerSection > 0);
  each(
    "baluster",
    sum(filled.map((g) => g.sections * g.balustersPerSection)),
    filled
      .map(
        (g) =>
          `${g.sections} x ${g.balustersPerSection} over ${lengthWords(g.clearWidthIn)}, ${lengthWords(g.balusterGapIn ?? 0)} clear`,
      )
      .join(" + "),
  );
  put(
    "lattice",
    "sqft",
    toDecimal(squareFeet(latticeSquareInches(m))),
    "between the posts, over the height of the guard",
  );
  boards(
    "stringer",
    stairs.flatMap((s) => Array.from({ length: s.stringers }, () => s.stringerLengthIn)),
  );
  const treadBoards = stairs.flatMap((s) => Array.from({ length: s.treadBoards }, () => s.widthIn));
  each(
    "tread",
    sum(stairs.map((s) => s.treads)),
    stairs.map((s) => `${s.risers} rises less one`).join(" + "),
  );
  put("tread", "lf", feetText(sum(treadBoards)), `${listLengths(treadBoards)} of tread board`);
  boards(
    "riser",
    stairs.flatMap((s) => Array.from({ length: s.closedRisers ? s.risers : 0 }, () => s.widthIn)),
  );
  const held = fasteners(m);
  if (held) each("fastener", held.each, held.how);
  const coat = finish(m);
  if (coat) put("finish", "sqft", toDecimal(coat.area), coat.how);
  put("finish", "lf", feetText(sum(runs)), "of railing, along its run");

  const order = new Map<Component, number>(COMPONENTS.map((component, i) => [component, i]));
  return found.sort((a, b) => (order.get(a.component) ?? 0) - (order.get(b.component) ?? 0));
}

/**
 * How much of `component` the takeoff counted in `unit`, as decimal text; null when the drawing does not tell, which is
 * not the same as none.
 */
export function existingQuantity(
  takeoff: { existing: readonly Existing[] },
  component: Component,
  unit: Unit,
): string | null {
  return takeoff.existing.find((e) => e.component === component && e.unit === unit)?.quantity ?? null;
}
