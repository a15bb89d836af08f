import parsePhoneNumber from "libphonenumber-js/min";

/** A phone number in E.164 for comparing, read as American where no country is given; null when it is none. */
export function normalisePhone(phone: string | null): string | null {
  if (phone === null) return null;
  const parsed = parsePhoneNumber(phone, "US");
  if (parsed?.isPossible()) return parsed.number;
  // Numbers kept for fiction (555-01xx) and local short ones still compare by their digits.
  const digits = phone.replace(/\D/g, "");
  return digits.length >= 7 ? digits : null;
}

/** A mail address for comparing: lower case, as mail servers in practice treat it. */
export function normaliseEmail(email: string | null): string | null {
  return email === null ? null : email.trim().toLowerCase();
}

/** The columns of a customer's contact, as given and as compared. */
export function contactColumns(contact: {
  phone?: string | null | undefined;
  email?: string | null | undefined;
}) {
  return {
    ...(contact.phone !== undefined && {
      phone: contact.phone,
      phoneNormalized: normalisePhone(contact.phone),
    }),
    ...(contact.email !== undefined && {
      email: contact.email,
      emailNormalized: normaliseEmail(contact.email),
    }),
  };
}
