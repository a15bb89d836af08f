import "./customer.css";
import type { Customer } from "@ledgerboard/contracts/customers";

/** Links that call and write: large enough for a thumb. */
export function Contact({ of: { phone, email } }: { of: Pick<Customer, "phone" | "email"> }) {
  if (!phone && !email) return <p className="quiet">No phone number and no mail address.</p>;
  return (
    <ul className="plain customer-contact">
      {phone && (
        <li>
          <a href={`tel:${phone.replace(/[^\d+]/g, "")}`}>{phone}</a>
        </li>
      )}
      {email && (
        <li>
          <a href={`mailto:${encodeURIComponent(email).replaceAll("%40", "@")}`}>{email}</a>
        </li>
      )}
    </ul>
  );
}
