import type { Role } from "./vocabulary.ts";

/**
 * The role matrix: who may do what. The one file that routes, screens and tests read.
 * A member with several roles may do what any of them may.
 */
export const PERMISSIONS = {
  "company.read": ["owner", "sales", "estimator", "scheduler", "lead_hand"],
  "company.edit": ["owner"],
  "policy.edit": ["owner"],
  "outbox.read": ["owner"],
  "members.read": ["owner", "sales", "estimator", "scheduler", "lead_hand"],
  "members.edit": ["owner"],
  "customers.read": ["owner", "sales", "estimator", "scheduler", "lead_hand"],
  "customers.edit": ["owner", "sales", "estimator", "scheduler"],
  "customers.merge": ["owner", "sales"],
  "leads.create": ["owner", "sales", "estimator", "scheduler"],
  "jobs.read": ["owner", "sales", "estimator", "scheduler", "lead_hand"],
  "jobs.edit": ["owner", "sales", "estimator", "scheduler"],
  "jobs.pin": ["owner"],
  "jobs.close": ["owner", "sales"],
  "visits.edit": ["owner", "sales", "estimator", "scheduler"],
  "observations.create": ["owner", "sales", "estimator", "scheduler", "lead_hand"],
  "estimates.read": ["owner", "sales", "estimator", "scheduler"],
  "estimates.first_pass": ["owner", "sales", "estimator"],
  "estimates.site_review": ["owner", "estimator"],
  "variances.waive": ["owner"],
  "advisories.edit": ["owner", "sales", "estimator"],
  "quotes.read": ["owner", "sales", "estimator", "scheduler"],
  "quotes.issue": ["owner", "sales", "estimator"],
  "quotes.record_acceptance": ["owner", "sales"],
  "money.read": ["owner", "sales", "scheduler"],
  "money.record": ["owner", "sales"],
  "money.reverse": ["owner"],
  "crews.read": ["owner", "sales", "estimator", "scheduler", "lead_hand"],
  "crews.edit": ["owner", "scheduler"],
  "bookings.edit": ["owner", "scheduler"],
  "bookings.run": ["owner", "scheduler", "lead_hand"],
  "holds.edit": ["owner", "sales", "estimator", "scheduler"],
  "promises.make": ["owner", "sales", "scheduler"],
  "price_book.read": ["owner", "sales", "estimator"],
  "price_book.edit": ["owner", "estimator"],
} as const satisfies Record<string, readonly Role[]>;

export type Permission = keyof typeof PERMISSIONS;

/** True when any of the member's roles carries the permission. */
export function may(roles: readonly Role[], permission: Permission): boolean {
  const allowed: readonly Role[] = PERMISSIONS[permission];
  return roles.some((role) => allowed.includes(role));
}
