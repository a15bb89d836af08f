import "./public-frame.css";
import { Outlet } from "@tanstack/react-router";

/** Frame of the doors open to the street: no navigation, no session. */
export function PublicFrame() {
  return (
    <div className="street">
      <header className="street-head">
        <span className="wordmark">Ledgerboard</span>
      </header>
      <main id="main">
        <Outlet />
      </main>
    </div>
  );
}
