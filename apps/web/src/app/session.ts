import type { Session } from "@ledgerboard/contracts/identity";
import type { Permission } from "@ledgerboard/contracts/permissions";
import { useQuery } from "@tanstack/react-query";
import { q } from "../api/queries.ts";

/** Who is signed in, for which company, and which day it is there. Only below the signed-in frame. */
export function useSession(): Session {
  const { data } = useQuery(q.session());
  if (!data) throw new Error("This part of the page is only for people who are signed in.");
  return data;
}

/** `may("jobs.pin")`: whether to offer an act at all. The service decides again. */
export function useMay(): (permission: Permission) => boolean {
  const { permissions } = useSession();
  return (permission) => permissions.includes(permission);
}
