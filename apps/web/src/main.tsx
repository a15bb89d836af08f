import "@fontsource-variable/archivo/wdth.css";
import "./ui/tokens.css";
import "./ui/base.css";
import "./ui/ui.css";
import { QueryClientProvider } from "@tanstack/react-query";
import { RouterProvider } from "@tanstack/react-router";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { queryClient } from "./api/query-client.ts";
import { router } from "./app/router.tsx";
import { Toasts } from "./ui/toast.tsx";

// The first screen is fetched while the session is asked for, not after.
if (location.pathname === "/") void import("./screens/waiting.tsx");

const root = document.getElementById("root");
if (!root) throw new Error("index.html has no element to show the page in.");
createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={queryClient}>
      <RouterProvider router={router} />
      <Toasts />
    </QueryClientProvider>
  </StrictMode>,
);
