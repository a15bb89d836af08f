import "./public-frame.css";
import { Outlet } from "@tanstack/react-router";
import { LedgerDrawing } from "./ledger-drawing.tsx";

/** Frame of the doors open to the street: no navigation, no session. */
export function PublicFrame() {
  return (
    <div className="street">
      <div className="street-side">
        <header className="street-head">
          <span className="wordmark">Ledgerboard</span>
          <span className="quiet">from an inquiry to a crew on the day that was promised</span>
        </header>
        <main id="main">
          <Outlet />
        </main>
      </div>
      <LedgerDrawing />
    </div>
  );
}
