import { QueryCache, QueryClient } from "@tanstack/react-query";
import { isPassing, isProblem } from "./problem.ts";

let onSignedOut: () => void = () => {};

/** Says what to do when the service answers that nobody is signed in any more. */
export function whenSignedOut(act: () => void): void {
  onSignedOut = act;
}

export const queryClient = new QueryClient({
  queryCache: new QueryCache({
    onError: (error, query) => {
      if (isProblem(error, "not-signed-in") && query.queryKey[0] !== "session") onSignedOut();
    },
  }),
  defaultOptions: {
    queries: {
      // Live change (live.ts) marks what is stale; this only spares repeats within one look at a screen.
      staleTime: 20_000,
      retry: (tries, error) => tries < 2 && isPassing(error),
      retryDelay: (tries) => 500 * 2 ** tries,
    },
    mutations: { retry: false },
  },
});
