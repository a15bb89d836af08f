import { createRootRoute, createRoute, lazyRouteComponent, redirect } from "@tanstack/react-router";
import type { ComponentType } from "react";
import { isProblem } from "../api/problem.ts";
import { q } from "../api/queries.ts";
import { queryClient } from "../api/query-client.ts";
import { BrokenFrame } from "./broken.tsx";
import { Layout } from "./layout.tsx";
import { PublicFrame } from "./public-frame.tsx";

type Load = () => Promise<{ default: ComponentType }>;

const root = createRootRoute();

/** Everything behind the sign-in. */
const inside = createRoute({
  getParentRoute: () => root,
  id: "inside",
  component: Layout,
  errorComponent: BrokenFrame,
  beforeLoad: async ({ location }) => {
    try {
      await queryClient.ensureQueryData(q.session());
    } catch (error) {
      if (!isProblem(error, "not-signed-in")) throw error;
      throw redirect({ to: "/sign-in", search: location.href === "/" ? {} : { next: location.href } });
    }
  },
});
/** Doors open to the street. */
const street = createRoute({ getParentRoute: () => root, id: "street", component: PublicFrame });

const screen = <const P extends string>(path: P, load: Load) =>
  createRoute({
    getParentRoute: () => inside,
    path,
    component: lazyRouteComponent(load),
    validateSearch: texts,
  });
const door = <const P extends string>(path: P, load: Load) =>
  createRoute({
    getParentRoute: () => street,
    path,
    component: lazyRouteComponent(load),
    validateSearch: texts,
  });

/** What stands after "?" is text by name; each screen reads its own names (see `useSearchText`). */
type Texts = { [name: string]: string | undefined };
function texts(search: Record<string, unknown>): Texts {
  const entries = Object.entries(search).filter(([, value]) => value !== "" && value != null);
  return Object.fromEntries(entries.map(([name, value]) => [name, String(value)]));
}

export const routeTree = root.addChildren([
  inside.addChildren([
    screen("/", () => import("../screens/waiting.tsx")),
    screen("/jobs/$jobId", () => import("../screens/job.tsx")),
    screen("/jobs/$jobId/estimate/$revisionId", () => import("../screens/estimate.tsx")),
    screen("/jobs/$jobId/estimate/$revisionId/cut-plan", () => import("../screens/cut-plan/screen.tsx")),
    screen("/jobs/$jobId/estimate/$revisionId/choices", () => import("../screens/choices/screen.tsx")),
    screen("/jobs/$jobId/zones/$zoneId", () => import("../screens/zone/screen.tsx")),
    screen("/jobs/$jobId/compare", () => import("../screens/compare.tsx")),
    screen("/new", () => import("../screens/new-inquiry.tsx")),
    screen("/crews", () => import("../screens/crews.tsx")),
    screen("/deposits", () => import("../screens/deposits.tsx")),
    screen("/price-book", () => import("../screens/price-book.tsx")),
    screen(
      "/price-book/$bookId/assemblies/$assemblyId",
      () => import("../screens/price-book/assembly-screen.tsx"),
    ),
    screen("/company", () => import("../screens/company.tsx")),
    screen("/members", () => import("../screens/members.tsx")),
    screen("/outbox", () => import("../screens/outbox.tsx")),
    screen("/customers", () => import("../screens/customers.tsx")),
    screen("/customers/$customerId", () => import("../screens/customer.tsx")),
  ]),
  street.addChildren([
    door("/sign-in", () => import("../screens/sign-in.tsx")),
    door("/sign-up", () => import("../screens/sign-up.tsx")),
    door("/forgot", () => import("../screens/forgot.tsx")),
    door("/reset/$token", () => import("../screens/reset.tsx")),
    door("/join/$token", () => import("../screens/join.tsx")),
    door("/ask/$slug", () => import("../screens/ask.tsx")),
  ]),
]);
