import { ROLES, type Role } from "@ledgerboard/contracts/vocabulary";
import { words } from "../../ui/format.ts";

const HINTS: Record<Role, string> = {
  owner: "everything, also members, profile and price book",
  sales: "takes inquiries, writes first passes, quotes, enters money",
  estimator: "site reviews and the price book",
  scheduler: "crews, bookings and promises",
  lead_hand: "starts and finishes work, notes what was seen",
};

/** Roles to tick, each with what it is for. */
export const ROLE_CHOICES = ROLES.map((value) => ({ value, label: words(value), hint: HINTS[value] }));

export const needRole = (roles: readonly Role[]): string | undefined =>
  roles.length === 0 ? "Give at least one role." : undefined;
