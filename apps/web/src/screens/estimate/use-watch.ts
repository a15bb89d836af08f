import type { Revision } from "@ledgerboard/contracts/estimates";
import { useEffect } from "react";
import type { Desk } from "./desk.ts";

/** Follows what others save, saves on leaving, tries again when the connection is back. */
export function useWatch(desk: Desk, { lines }: Revision, editable: boolean): void {
  useEffect(() => desk.follow(lines), [desk, lines]);
  useEffect(() => {
    if (!editable) return;
    const ask = (event: BeforeUnloadEvent) => {
      if (desk.unsaved().length > 0) event.preventDefault();
    };
    const hidden = () => {
      if (document.visibilityState === "hidden") desk.flushAll();
    };
    window.addEventListener("online", desk.flushAll);
    window.addEventListener("beforeunload", ask);
    document.addEventListener("visibilitychange", hidden);
    return () => {
      desk.flushAll();
      window.removeEventListener("online", desk.flushAll);
      window.removeEventListener("beforeunload", ask);
      document.removeEventListener("visibilitychange", hidden);
    };
  }, [desk, editable]);
}
