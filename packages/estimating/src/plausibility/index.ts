export { assessPlausibility, PLAUSIBILITY_RULES } from "./assess.ts";
export type { CompanyPast, PlausibilityJob, PlausibilityLine, PlausibilityZone } from "./job.ts";
export type { Finding } from "./rule.ts";
