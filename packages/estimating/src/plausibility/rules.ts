import type { Rule } from "./rule.ts";
import * as allowances from "./rules/allowances.ts";
import * as companions from "./rules/companions.ts";
import * as framing from "./rules/framing.ts";
import * as guards from "./rules/guards.ts";
import * as hazards from "./rules/hazards.ts";
import * as lines from "./rules/lines.ts";
import * as materials from "./rules/materials.ts";
import * as money from "./rules/money.ts";
import * as past from "./rules/past.ts";
import * as quantities from "./rules/quantities.ts";
import * as railsAndStairs from "./rules/rails-stairs.ts";
import * as stairs from "./rules/stairs.ts";

/** Every rule, theme by theme: each file exports rules and nothing else. */
export const RULES: readonly Rule[] = [
  quantities,
  lines,
  companions,
  railsAndStairs,
  framing,
  guards,
  stairs,
  materials,
  hazards,
  money,
  past,
  allowances,
].flatMap((theme) => Object.values<Rule>(theme));
