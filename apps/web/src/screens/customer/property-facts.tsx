import "./customer.css";
import type { Property } from "@ledgerboard/contracts/customers";

export const addressOf = ({ street, city, state, postalCode }: Omit<Property, "id" | "version">): string =>
  `${street}, ${city}, ${state} ${postalCode}`;

/** Opens whatever map the device has (RFC 5870); without coordinates the map searches for the address. */
function mapLink(property: Property): string {
  const { latitude, longitude } = property;
  const query = `?q=${encodeURIComponent(addressOf(property))}`;
  return latitude !== null && longitude !== null ? `geo:${latitude},${longitude}${query}` : `geo:0,0${query}`;
}

/** A property as somebody driving there needs it. */
export function PropertyFacts({ property }: { property: Property }) {
  const { street, city, state, postalCode, yearBuilt, saltExposure, accessNotes } = property;
  return (
    <>
      <address className="customer-place">
        <span>
          {street}
          <br />
          {city}, {state} {postalCode}
        </span>
        <a className="no-print" href={mapLink(property)}>
          Open in a map
        </a>
      </address>
      <dl className="facts">
        <dt>Built</dt>
        <dd>{yearBuilt ?? <span className="quiet">year not known</span>}</dd>
        <dt>Salt</dt>
        <dd>
          {saltExposure ? (
            <b>within reach of salt: suitable hangers and fasteners</b>
          ) : (
            <span className="quiet">none noted</span>
          )}
        </dd>
        <dt>Access</dt>
        <dd className="kept-lines">{accessNotes || <span className="quiet">nothing noted</span>}</dd>
      </dl>
    </>
  );
}
