import type { Permission } from "@ledgerboard/contracts/permissions";

export interface NavEntry {
  to: "/" | "/crews" | "/deposits" | "/price-book" | "/company" | "/members" | "/outbox" | "/customers";
  label: string;
  needs: Permission;
}

/** The screens of every day. */
export const NAV: readonly NavEntry[] = [
  { to: "/", label: "Waiting", needs: "jobs.read" },
  { to: "/crews", label: "Crews", needs: "crews.read" },
  { to: "/deposits", label: "Deposits", needs: "money.read" },
  { to: "/price-book", label: "Price book", needs: "price_book.read" },
];

/** What is looked up now and then, in the company's menu. */
export const COMPANY_NAV: readonly NavEntry[] = [
  { to: "/customers", label: "Customers", needs: "customers.read" },
  { to: "/members", label: "Members", needs: "members.read" },
  { to: "/company", label: "Company profile", needs: "company.read" },
  { to: "/outbox", label: "Outbox", needs: "outbox.read" },
];
