import type { Session } from "@ledgerboard/contracts/identity";
import { useRouter } from "@tanstack/react-router";
import { q } from "../api/queries.ts";
import { queryClient } from "../api/query-client.ts";

/** Only a place within this page: never an address somebody else put into a link. */
const within = (next: string | undefined): string =>
  next && /^\/(?![/\\])/.test(next) && !/^\/sign-in\b/.test(next) ? next : "/";

/** Opens the frame behind the sign-in for somebody who has just proved who they are. */
export function useEnter(): (session: Session, next?: string) => void {
  const router = useRouter();
  return (session, next) => {
    queryClient.clear();
    queryClient.setQueryData(q.session().queryKey, session);
    router.history.push(within(next));
  };
}
