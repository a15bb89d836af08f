import { useNavigate, useSearch } from "@tanstack/react-router";

/** What stands after "?" in the address, by name, and how to change it without leaving the screen. */
export function useSearchText(): [
  Record<string, string | undefined>,
  (change: Record<string, string | undefined>) => void,
] {
  const search = useSearch({ strict: false }) as Record<string, string | undefined>;
  const navigate = useNavigate();
  return [
    search,
    (change) => {
      const next = { ...search, ...change };
      const kept = Object.entries(next).filter(([, value]) => value !== undefined && value !== "");
      void navigate({ to: ".", search: Object.fromEntries(kept), replace: true, resetScroll: false });
    },
  ];
}
