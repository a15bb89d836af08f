import type { AnyRouter } from "@tanstack/react-router";
import { queryClient } from "../api/query-client.ts";

/** To the sign-in, and back to `next` afterwards. What was on screen is forgotten. */
export async function leaveToSignIn(router: AnyRouter, next?: string): Promise<void> {
  if (router.state.location.pathname === "/sign-in") return;
  await router.navigate({ to: "/sign-in", search: next && next !== "/" ? { next } : {} });
  queryClient.clear();
}
