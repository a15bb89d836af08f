import { useRouterState } from "@tanstack/react-router";
import { type ReactNode, useEffect, useRef } from "react";

const MENU_CLOSES_MS = 150;
let shown: string | undefined;

/** Frame of every screen: its one h1, the document's title, and the focus on the h1 after coming from another screen. */
export function Page({
  title,
  heading = title,
  over,
  lead,
  actions,
  children,
}: {
  /** Title of the document, before "Ledgerboard". */
  title: string;
  heading?: ReactNode;
  /** Above the heading: where this belongs. */
  over?: ReactNode;
  /** Below the heading: the state of things in a sentence or two. */
  lead?: ReactNode;
  /** To the right of the heading. */
  actions?: ReactNode;
  children?: ReactNode;
}) {
  const h1 = useRef<HTMLHeadingElement>(null);
  // The address of what is on screen, not of what is still being fetched.
  const path = useRouterState({ select: (state) => state.resolvedLocation?.pathname });
  useEffect(() => {
    document.title = `${title} · Ledgerboard`;
  }, [title]);
  useEffect(() => {
    if (path === undefined) return;
    const came = shown !== undefined && shown !== path;
    shown = path;
    if (!came) return;
    h1.current?.focus({ preventScroll: true });
    // A menu or dialog that led here closes a moment later and gives the focus back to where it was opened.
    const timer = setTimeout(() => {
      if (!document.activeElement?.closest("main")) h1.current?.focus({ preventScroll: true });
    }, MENU_CLOSES_MS);
    return () => clearTimeout(timer);
  }, [path]);
  return (
    <div className="page">
      <header className="page-head">
        <div>
          {over && <p className="over quiet">{over}</p>}
          <h1 ref={h1} tabIndex={-1}>
            {heading}
          </h1>
          {lead && <p className="lead">{lead}</p>}
        </div>
        {actions && <div className="row no-print">{actions}</div>}
      </header>
      {children}
    </div>
  );
}
