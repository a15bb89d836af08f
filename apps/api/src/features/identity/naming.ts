import { randomInt } from "node:crypto";

const MAX_SLUG = 60;
const words = (name: string): string[] =>
  name
    .normalize("NFKD")
    .replace(/[\u0300-\u036f'’]/g, "")
    .toLowerCase()
    .match(/[a-z0-9]+/g) ?? [];

/** The company's name as it stands in an address: "heron-point-carpentry". 3 to 60 characters. */
export function slugOf(name: string): string {
  const slug = words(name).join("-").slice(0, MAX_SLUG).replace(/-$/, "");
  return slug.length >= 3 ? slug : `company-${slug}`.replace(/-$/, "");
}

/** The same with four more characters, for a name that is taken. */
export function anotherSlug(slug: string): string {
  const more = randomInt(36 ** 4)
    .toString(36)
    .padStart(4, "0");
  return `${slug.slice(0, MAX_SLUG - 5).replace(/-$/, "")}-${more}`;
}

/** Two letters that begin the company's job numbers: initials, "HP" of Heron Point Carpentry. */
export function jobPrefixOf(name: string): string {
  const [first, second] = words(name).filter((word) => /^[a-z]/.test(word));
  if (!first) return "JB";
  return (second ? `${first.charAt(0)}${second.charAt(0)}` : first.slice(0, 2).padEnd(2, "j")).toUpperCase();
}
