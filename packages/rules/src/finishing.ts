import { type Backing, backing, CODE_VALUES } from "./code-values.ts";

export interface FinishWait extends Backing {
  leastDays: number;
  mostDays: number;
}

/**
 * Days between building with new treated lumber and finishing it, 7 to 60; lumber dried after treatment needs little
 * or no wait. Source: Southern Forest Products Association, sealers and finishes page, in shared/deck-code.json.
 */
export const finishWait = (): FinishWait => ({
  leastDays: CODE_VALUES.wait_before_finish.value.min_days,
  mostDays: CODE_VALUES.wait_before_finish.value.max_days,
  ...backing("wait_before_finish"),
});

/** Paint and solid stain on walking surfaces. Source: article of a wood scientist, in shared/deck-code.json. */
export const filmFinish = (): Backing & { words: string } => ({
  words: "Paint and solid stain peel on walking surfaces.",
  ...backing("film_finishes_on_decks"),
});
