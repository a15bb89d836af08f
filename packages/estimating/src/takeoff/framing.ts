import type { ZoneGeometry } from "@ledgerboard/contracts/geometry";
import type { InputFinding } from "../input-error.ts";
import { extent, inFrame, type Lie, lineSpans, type Span } from "./clip.ts";
import { splitLength, toSixteenth, upToSixteenth } from "./lengths.ts";
import { edges, type Point } from "./polygon.ts";
import { CLOSEST_JOISTS_IN, LONGEST_JOIST_IN, LONGEST_PIECE_IN, TWO_BY_IN } from "./sizes.ts";
import type { Surface } from "./surface.ts";

type Framing = NonNullable<ZoneGeometry["framing"]>;

/** A joist line: where it is across the joists, and its stretches along them, edge to edge of the frame. Inches. */
export interface JoistLine {
  at: number;
  spans: Span[];
}

/** The frame under a surface. Lengths in inches. Lists are null where the drawing does not tell. */
export interface FramingCount {
  lines: JoistLine[];
  /** Largest gap between joists that the drawing asks for, or null. */
  spacingIn: number | null;
  joistsIn: number[] | null;
  headersIn: number[];
  rimsIn: number[];
  ledgersIn: number[];
  beamsIn: number[] | null;
  /** One for each joist end that butts the ledger or a header, and each header end. */
  hangers: number | null;
  hangersHow: string;
}

/** The axis the joists run along: away from the house is y, along it x. */
export const joistLie = (framing: Framing): Lie => (framing.joistDirection === "out" ? "along_y" : "along_x");
const across = (lie: Lie): Lie => (lie === "along_x" ? "along_y" : "along_x");

function checkFraming(framing: Framing, findings: InputFinding[]): void {
  const add = (field: string, words: string) => findings.push({ field: `geometry.framing.${field}`, words });
  if (framing.joistSpacingIn === 0)
    add("joistSpacingIn", "Is zero; joists cannot be counted without a spacing.");
  else if (framing.joistSpacingIn < CLOSEST_JOISTS_IN)
    add(
      "joistSpacingIn",
      `Under ${CLOSEST_JOISTS_IN} in on center is taken for a slip; joists are not counted.`,
    );
  if (framing.ledger && framing.joistDirection === "along")
    add("ledger", "Joists along the house do not end on a ledger; no hangers are counted there.");
  if (!framing.ledger && framing.beams === 0)
    add("beams", "No ledger and no beam: nothing carries the joists.");
  if (!framing.ledger && framing.beams === 1)
    add("beams", "Without a ledger, one beam line cannot carry the joists.");
  if (framing.beams === 0 && framing.posts > 0) add("posts", "Posts, but no beam for them to carry.");
  if (framing.beams > 0 && framing.posts === 0) add("posts", "Beams, but no post under them.");
}

/** Sides of the outline that lie on the house line with the surface beyond it. */
const ledgerEdges = (surface: Surface): [Point, Point][] =>
  edges(surface.outline).filter(([p, q]) => p.y === 0 && q.y === 0 && q.x > p.x);

const length = ([p, q]: [Point, Point]) => upToSixteenth(Math.hypot(q.x - p.x, q.y - p.y) / 16);
const runsAlong = ([p, q]: [Point, Point], lie: Lie) => (lie === "along_x" ? p.y === q.y : p.x === q.x);

/**
 * Joist lines: one at the start, then at every spacing, one at the end, and one along every edge that runs with the
 * joists (a step in the outline, a side of a cut-out). Where an edge joist would overlap the next one in the row
 * (closer than the thickness of a joist), that one is left out.
 */
function joistLines(surface: Surface, lie: Lie, spacingIn: number): JoistLine[] {
  const rings = [surface.outline, ...surface.holes].map((ring) => inFrame(ring, lie));
  const [from, to] = extent(inFrame(surface.outline, lie));
  const edgeAt = new Set<number>([from, to]);
  for (const ring of [surface.outline, ...surface.holes])
    for (const edge of edges(ring))
      if (runsAlong(edge, lie)) edgeAt.add((lie === "along_x" ? edge[0].y : edge[0].x) / 16);
  const line = (at: number): JoistLine => ({
    at,
    spans: lineSpans(rings, at),
  });
  const fixed = [...edgeAt].map(line);
  const lines = [...fixed];
  for (let k = 1; from + k * spacingIn < to; k += 1) {
    const at = from + k * spacingIn;
    if (edgeAt.has(at)) continue;
    const close = fixed.filter((edge) => Math.abs(edge.at - at) < TWO_BY_IN);
    const { spans } = line(at);
    const free = spans.filter(
      ([lo, hi]) =>
        !close.some((edge) => edge.spans.some(([l, h]) => l <= lo + TWO_BY_IN && h >= hi - TWO_BY_IN)),
    );
    lines.push({ at, spans: free });
  }
  return lines.filter((l) => l.spans.length > 0).sort((a, b) => a.at - b.at);
}

/** Lines of beam: evenly from the ledger (or the near edge of a free-standing deck) to the last, short of the overhang. */
function beamLengths(surface: Surface, framing: Framing, findings: InputFinding[]): number[] | null {
  const lie = across(joistLie(framing));
  const ring = inFrame(surface.outline, lie);
  const [near, far] = extent(ring);
  const last = far - framing.overhangIn;
  if (framing.beams === 0) return [];
  if (last <= near) {
    findings.push({
      field: "geometry.framing.overhangIn",
      words: "The overhang is as long as the joists; the beams cannot be placed or measured.",
    });
    return null;
  }
  const onLedger = framing.ledger && framing.joistDirection === "out";
  const start = onLedger ? Math.max(near, 0) : near;
  const bays = onLedger ? framing.beams : framing.beams - 1;
  return Array.from({ length: framing.beams }, (_, i) => {
    const at = bays === 0 ? last : start + ((last - start) * (onLedger ? i + 1 : i)) / bays;
    return lineSpans([ring], at).map(([lo, hi]) => toSixteenth(hi - lo));
  }).flat();
}

/**
 * Counts the frame. A joist is shorter than the surface by the thickness of the ledger, rim or header it butts at each
 * end. Joists hang at the ledger and at headers; at a dropped beam they bear on top and need no hanger; with no beam
 * at all they hang at the far end too.
 */
export function countFraming(surface: Surface, framing: Framing, findings: InputFinding[]): FramingCount {
  checkFraming(framing, findings);
  const lie = joistLie(framing);
  const ledgers = framing.ledger ? ledgerEdges(surface) : [];
  if (framing.ledger && ledgers.length === 0)
    findings.push({
      field: "geometry.framing.ledger",
      words: "No side of the outline lies on the house (y = 0), so the ledger has no length.",
    });
  const onLedger = framing.joistDirection === "out" ? ledgers : [];
  const rims = edges(surface.outline).filter(
    (edge) => !runsAlong(edge, lie) && !onLedger.some(([p, q]) => p === edge[0] && q === edge[1]),
  );
  const headers = surface.holes.flatMap((hole) => edges(hole).filter((edge) => !runsAlong(edge, lie)));
  const count: FramingCount = {
    lines: [],
    spacingIn: null,
    joistsIn: null,
    headersIn: headers.map(length),
    rimsIn: rims.flatMap((edge) => splitLength(length(edge), LONGEST_PIECE_IN)),
    ledgersIn: ledgers.flatMap((edge) => splitLength(length(edge), LONGEST_PIECE_IN)),
    beamsIn: beamLengths(surface, framing, findings),
    hangers: null,
    hangersHow: "",
  };
  if (framing.joistSpacingIn < CLOSEST_JOISTS_IN) return count;

  const lines = joistLines(surface, lie, framing.joistSpacingIn);
  const outline = [inFrame(surface.outline, lie)];
  const joistsIn: number[] = [];
  const hung = { ledger: 0, header: 0, rim: 0 };
  for (const { at, spans } of lines) {
    const outer = lineSpans(outline, at).flat();
    const isOuter = (end: number) => outer.some((o) => Math.abs(o - end) < 1e-6);
    for (const [lo, hi] of spans) {
      if (hi - lo <= 2 * TWO_BY_IN) continue; // a block in a corner, no joist
      joistsIn.push(...splitLength(upToSixteenth(hi - lo - 2 * TWO_BY_IN), LONGEST_JOIST_IN));
      const hangsOnLedger =
        Math.abs(lo) < 1e-6 && onLedger.some(([p, q]) => p.x / 16 <= at && at <= q.x / 16) && isOuter(lo);
      for (const end of [lo, hi]) {
        if (end === lo && hangsOnLedger) hung.ledger += 1;
        else if (!isOuter(end)) hung.header += 1;
        else hung.rim += 1;
      }
    }
  }
  const atRim = framing.beams === 0 ? hung.rim : 0;
  const headerEnds = 2 * headers.length;
  const parts = [
    [hung.ledger, "at the ledger"],
    [atRim, "at the far ends, as no beam carries them"],
    [hung.header + headerEnds, "at headers"],
  ] as const;
  return {
    ...count,
    lines,
    spacingIn: framing.joistSpacingIn,
    joistsIn,
    hangers: hung.ledger + atRim + hung.header + headerEnds,
    hangersHow:
      parts
        .filter(([n]) => n > 0)
        .map(([n, where]) => `${n} ${where}`)
        .join(", ") || "joists bear on beams and need none",
  };
}
