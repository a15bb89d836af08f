import "./section.css";
import { type ReactNode, useId } from "react";

/** A part of a long screen: its heading hangs from a line, with its acts at the right end. */
export function Section({
  id,
  title,
  note,
  acts,
  className,
  children,
}: {
  /** Where links within the page lead. */
  id?: string;
  title: string;
  /** Beside the heading, quietly. */
  note?: ReactNode;
  acts?: ReactNode;
  className?: string;
  children: ReactNode;
}) {
  const heading = useId();
  return (
    <section id={id} className={className ? `part ${className}` : "part"} aria-labelledby={heading}>
      <header className="part-head">
        <h2 id={heading}>{title}</h2>
        {note && <span className="quiet">{note}</span>}
        {acts && <div className="row no-print">{acts}</div>}
      </header>
      {children}
    </section>
  );
}
