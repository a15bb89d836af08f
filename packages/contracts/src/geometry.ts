import { z } from "zod";

/**
 * A length in inches, in sixteenths of an inch as a tape shows them. Zero is taken here and reported by the takeoff,
 * which names the field, so that a half-finished drawing can be kept.
 */
export const inches = (max = 6000) =>
  z
    .number()
    .min(0, "Not below zero.")
    .max(max, `At most ${max / 12} ft.`)
    .multipleOf(0.0625, "In sixteenths of an inch, as on the tape.");

const point = z.strictObject({
  x: z.number().min(-6000).max(6000).multipleOf(0.0625),
  y: z.number().min(-6000).max(6000).multipleOf(0.0625),
});
const points = z.array(point).min(3, "An outline has at least three corners.").max(60);

export const OUTLINE_SHAPES = ["rectangle", "l_shape", "polygon"] as const;
export const LUMBER_GROUPS = ["southern_pine", "mixed_softwoods", "redwood_cedar"] as const;
export type LumberGroup = (typeof LUMBER_GROUPS)[number];
export const JOIST_SIZES = ["2x6", "2x8", "2x10", "2x12"] as const;
export type JoistSize = (typeof JOIST_SIZES)[number];
/** Joists run away from the house, or along it. */
export const JOIST_DIRECTIONS = ["out", "along"] as const;
export const BOARD_PATTERNS = ["straight", "diagonal"] as const;
export const BOARD_THICKNESSES = ["five_quarter", "two_by", "composite"] as const;
export const INFILLS = ["balusters", "lattice", "rails_only", "none"] as const;

/**
 * The measured or assumed shape of a zone. x runs along the house, y away from it; all lengths in inches. Parts that a
 * zone does not have, or that nobody has measured, are null or empty.
 */
export const zoneGeometry = z.strictObject({
  /** The walking surface seen from above; null for a stair or a railing alone. */
  outline: z
    .discriminatedUnion("shape", [
      z.strictObject({ shape: z.literal("rectangle"), lengthIn: inches(), widthIn: inches() }),
      z.strictObject({
        shape: z.literal("l_shape"),
        lengthIn: inches(),
        widthIn: inches(),
        /** The corner missing from the full rectangle, at the end of x and y. */
        notchLengthIn: inches(),
        notchWidthIn: inches(),
      }),
      z.strictObject({ shape: z.literal("polygon"), points }),
    ])
    .nullable(),
  /** Holes in the surface: a tree, a hatch, a hot tub. */
  cutouts: z.array(z.strictObject({ points })).max(10),
  /** Walking surface above the ground below. */
  heightIn: inches(1200).nullable(),
  framing: z
    .strictObject({
      joistDirection: z.enum(JOIST_DIRECTIONS),
      joistSpacingIn: inches(48),
      joistSize: z.enum(JOIST_SIZES),
      lumber: z.enum(LUMBER_GROUPS),
      /** Whether a ledger carries the joists at the house (y = 0); otherwise the deck stands free. */
      ledger: z.boolean(),
      /** Lines of beam under the joists, not counting the ledger. */
      beams: z.int().min(0).max(20),
      posts: z.int().min(0).max(200),
      /** Joists past the last beam. */
      overhangIn: inches(120),
    })
    .nullable(),
  decking: z
    .strictObject({
      pattern: z.enum(BOARD_PATTERNS),
      thickness: z.enum(BOARD_THICKNESSES),
      boardWidthIn: inches(24),
      gapIn: inches(2),
      /** Rows of border boards laid around the edge like a picture frame. */
      borderRows: z.int().min(0).max(3),
    })
    .nullable(),
  stairs: z
    .array(
      z.strictObject({
        /** From the ground or landing to the walking surface. */
        totalRiseIn: inches(600),
        /** Number of rises; null lets the takeoff choose the fewest that the code's limit allows. */
        risers: z.int().min(1).max(60).nullable(),
        /** Going of one step, nosing to nosing. */
        treadDepthIn: inches(36),
        widthIn: inches(480),
        stringers: z.int().min(0).max(40),
        /** Boards that make one tread. */
        boardsPerTread: z.int().min(1).max(4),
        closedRisers: z.boolean(),
      }),
    )
    .max(10),
  guards: z
    .array(
      z.strictObject({
        /** Between the centers of the end posts; along the slope on a stair. */
        lengthIn: inches(),
        heightIn: inches(96),
        onStair: z.boolean(),
        /** Largest distance between posts, center to center. */
        postSpacingIn: inches(240),
        /** End posts that stand at a corner and are counted with the run they are shared with; absent is none. */
        sharedPosts: z.int().min(0).max(2).optional(),
        infill: z.enum(INFILLS),
        balusterWidthIn: inches(12),
        /** Clear opening between balusters. */
        clearGapIn: inches(24),
        /** Horizontal rails in each section, not counting the cap. */
        rails: z.int().min(0).max(10),
        cap: z.boolean(),
        gates: z.int().min(0).max(10),
        gateWidthIn: inches(96),
      }),
    )
    .max(30),
});
export type ZoneGeometry = z.infer<typeof zoneGeometry>;
