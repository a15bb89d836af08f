import { useLocation } from "@tanstack/react-router";
import { type ReactNode, useEffect, useRef } from "react";

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
  const path = useLocation({ select: (location) => location.pathname });
  useEffect(() => {
    document.title = `${title} · Ledgerboard`;
  }, [title]);
  useEffect(() => {
    if (shown !== undefined && shown !== path) h1.current?.focus({ preventScroll: true });
    shown = path;
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
