import type { ReactNode } from "react";

/** A word that must not be overlooked; an alarm also carries a mark, not colour alone. */
export const Flag = ({ alarm, children }: { alarm?: boolean; children: ReactNode }) => (
  <span className={alarm ? "flag alarm" : "flag"}>{children}</span>
);
