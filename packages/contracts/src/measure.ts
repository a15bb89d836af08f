/** Lengths as a tape shows them: kept in inches, read and written in feet, inches and sixteenths. */

const FRACTION_SIGNS: Record<string, string> = {
  "¼": "1/4",
  "½": "1/2",
  "¾": "3/4",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};

interface Parts {
  sign: "" | "−";
  feet: number;
  inches: number;
  /** "1/2", or "" when there is none. */
  fraction: string;
}

function parts(inches: number): Parts {
  const sixteenths = Math.round(Math.abs(inches) * 16);
  let [num, den] = [sixteenths % 16, 16];
  while (num > 0 && num % 2 === 0) [num, den] = [num / 2, den / 2];
  const whole = Math.floor(sixteenths / 16);
  return {
    sign: inches < 0 && sixteenths > 0 ? "−" : "",
    feet: Math.floor(whole / 12),
    inches: whole % 12,
    fraction: num === 0 ? "" : `${num}/${den}`,
  };
}

const inchText = ({ inches, fraction }: Parts) =>
  inches === 0 && fraction !== "" ? fraction : fraction === "" ? `${inches}` : `${inches} ${fraction}`;

function write(length: number, foot: string, inch: string): string {
  if (!Number.isFinite(length)) return "";
  const p = parts(length);
  const hasInches = p.inches > 0 || p.fraction !== "";
  const feet = p.feet > 0 ? `${p.feet}${foot}` : "";
  const inches = hasInches || p.feet === 0 ? `${inchText(p)}${inch}` : "";
  return `${p.sign}${[feet, inches].filter(Boolean).join(" ")}`;
}

/** A length in inches as a tape shows it, to the nearest sixteenth: 150.5 is `12' 6 1/2"`; "" unless finite. */
export const formatInches = (inches: number): string => write(inches, "'", '"');

/** A length in inches in words, to the nearest sixteenth: 150.5 is "12 ft 6 1/2 in"; "" unless finite. */
export const lengthWords = (inches: number): string => write(inches, " ft", " in");

const NUMBER = "\\d{1,6}(?:\\.\\d{1,6})?|\\.\\d{1,6}";
const FRACTION = "\\d{1,2}/\\d{1,2}";
const INCHES = `(?:(?<whole>${NUMBER})(?:[ -](?<part>${FRACTION}))?|(?<alone>${FRACTION}))`;
const FORMS = [
  `^(?<feet>${NUMBER})'?$`,
  `^(?<feet>${NUMBER})'[ -]{0,2}${INCHES}"?$`,
  `^(?<feet>\\d{1,6})-(?<whole>\\d{1,2})(?: (?<part>${FRACTION}))?"?$`,
  `^${INCHES}"$`,
].map((form) => new RegExp(form));

function fraction(text: string | undefined): number {
  if (text === undefined) return 0;
  const [num = 0, den = 0] = text.split("/").map(Number);
  return den > 0 && num < den ? num / den : Number.NaN;
}

/**
 * The inches a person typed, to the nearest sixteenth, or null when it is no length. Takes `12' 6 1/2"`, `12'6`,
 * `12-6`, `12.5'`, `150"`, `6 1/2"`, "12 ft 6 in", straight or curly marks and signs such as ½. A bare number is
 * FEET: "150" is 150 ft. Next to feet, inches must be under twelve, so that `12'14"` is refused as a slip.
 */
export function parseInches(text: string): number | null {
  const plain = text
    .replace(/[¼½¾⅛⅜⅝⅞]/g, (sign) => ` ${FRACTION_SIGNS[sign]}`)
    .replaceAll("⁄", "/")
    .replace(/''|[“”″]|(?<![a-z])(?:inches|inch|in)\b\.?|(?<=\d)(?:inches|inch|in)\b\.?/gi, '"')
    .replace(/[‘’′]|(?<![a-z])(?:feet|foot|ft)\b\.?|(?<=\d)(?:feet|foot|ft)\b\.?/gi, "'")
    .replace(/[‐‑–−]/g, "-")
    .replace(/\s+/g, " ")
    .replace(/ ?(['"]) ?/g, "$1")
    .replace(/ ?- ?/g, "-")
    .trim();
  for (const form of FORMS) {
    const found = form.exec(plain)?.groups;
    if (!found) continue;
    const inches = Number(found.whole ?? 0) + fraction(found.part) + fraction(found.alone);
    if (Number.isNaN(inches)) return null;
    if (found.feet !== undefined && inches >= 12) return null;
    if (found.part !== undefined && found.whole?.includes(".")) return null;
    return Math.round((Number(found.feet ?? 0) * 12 + inches) * 16) / 16;
  }
  return null;
}
