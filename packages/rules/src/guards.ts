import { CODE_VALUES, type CodeCheck, codeCheck, inchWords } from "./code-values.ts";

/** Whether a walking surface this many inches above the ground needs a guard. Source: IRC 2018 R312.1.1. */
export function guardNeeded(dropIn: number): CodeCheck {
  const limit = CODE_VALUES.guard_required_above.value.drop_in;
  return codeCheck("guard_needed", "guard_required_above", {
    ok: dropIn <= limit,
    measured: dropIn,
    limit,
    words: `The walking surface is ${inchWords(dropIn)} above the ground; more than ${limit} in needs a guard.`,
  });
}

/**
 * Height of a guard, in inches: 36 on the level, 34 along a stair, measured above the nosings. Some states and the IBC
 * want 42. Source: IRC 2018 R312.1.2.
 */
export function guardHeightCheck(guard: { heightIn: number; onStair: boolean }): CodeCheck {
  const { heightIn: measured, onStair } = guard;
  const limit = onStair ? CODE_VALUES.stair_guard_height.value.min : CODE_VALUES.guard_min_height.value;
  return codeCheck("guard_height", onStair ? "stair_guard_height" : "guard_min_height", {
    ok: measured >= limit,
    measured,
    limit,
    words: `The ${onStair ? "stair guard" : "guard"} is ${inchWords(measured)} high; ${limit} in is the least.`,
  });
}

/**
 * Clear opening of a guard, in inches: a 4 in sphere must not pass, along a stair a 4 3/8 in one. The opening must be
 * smaller than the sphere: exactly 4 in fails. Source: IRC 2018 R312.1.3.
 */
export function guardOpeningCheck(guard: { openingIn: number; onStair: boolean }): CodeCheck {
  const { openingIn: measured, onStair } = guard;
  const limit = onStair
    ? CODE_VALUES.stair_guard_opening.value.sphere_that_must_not_pass
    : CODE_VALUES.guard_max_opening.value;
  const sphere = `a ${inchWords(limit)} sphere`;
  return codeCheck("guard_opening", onStair ? "stair_guard_opening" : "guard_max_opening", {
    ok: measured < limit,
    measured,
    limit,
    words:
      measured < limit
        ? `Openings of ${inchWords(measured)} stop ${sphere}.`
        : `Openings of ${inchWords(measured)} let ${sphere} through.`,
  });
}
