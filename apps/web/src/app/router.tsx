import { createRouter } from "@tanstack/react-router";
import { whenSignedOut } from "../api/query-client.ts";
import { Loading } from "../ui/states.tsx";
import { BrokenScreen, NoSuchScreen } from "./broken.tsx";
import { leaveToSignIn } from "./leave.ts";
import { routeTree } from "./routes.tsx";

export const router = createRouter({
  routeTree,
  defaultPreload: "intent",
  // Data is kept by the query client; the router must not serve its own copy.
  defaultPreloadStaleTime: 0,
  scrollRestoration: true,
  defaultErrorComponent: BrokenScreen,
  defaultNotFoundComponent: NoSuchScreen,
  defaultPendingComponent: () => (
    <div className="page">
      <Loading />
    </div>
  ),
  // Search values are plain text: "?q=0150" must not become the number 150.
  parseSearch: (text) => Object.fromEntries(new URLSearchParams(text)),
  stringifySearch: (search) => {
    const pairs = Object.entries(search).filter(([, value]) => value !== undefined && value !== "");
    const text = new URLSearchParams(pairs.map(([name, value]) => [name, String(value)])).toString();
    return text && `?${text}`;
  },
});

declare module "@tanstack/react-router" {
  interface Register {
    router: typeof router;
  }
}

whenSignedOut(() => void leaveToSignIn(router, router.state.location.href));
