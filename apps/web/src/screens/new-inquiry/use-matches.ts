import type { Customer } from "@ledgerboard/contracts/customers";
import { useQueries } from "@tanstack/react-query";
import { useEffect, useState } from "react";
import { q } from "../../api/queries.ts";
import { SETTLE_MS } from "../../ui/search-box.tsx";

/** What is worth searching for: at least four digits of a phone number, three letters of a name or mail address. */
export function terms(caller: { name: string; phone: string; email: string }): string[] {
  const digits = caller.phone.replace(/\D/g, "");
  return [
    digits.length >= 4 && digits.slice(-10),
    caller.email.trim().length >= 3 && caller.email.trim().slice(0, 80),
    caller.name.trim().length >= 3 && caller.name.trim().slice(0, 80),
  ].filter((term) => term !== false);
}

/** Known customers that may be the caller, found while it is typed: by phone first, then mail, then name. */
export function useMatches(caller: { name: string; phone: string; email: string }): Customer[] {
  const text = JSON.stringify(terms(caller));
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(text), SETTLE_MS);
    return () => clearTimeout(timer);
  }, [text]);
  const found = useQueries({
    queries: (JSON.parse(settled) as string[]).map((search) => q.customers({ search, limit: "6" })),
  });
  const all = found.flatMap(({ data }) => data?.items ?? []);
  return [...new Map(all.map((one) => [one.id, one])).values()].slice(0, 8);
}
