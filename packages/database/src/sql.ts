import { createHash } from "node:crypto";

/** A piece of SQL with its bound values, to be put into a larger statement: `${part`AND stage = ${stage}`}`. */
export class SqlPart {
  readonly strings: TemplateStringsArray;
  readonly values: readonly unknown[];

  constructor(strings: TemplateStringsArray, values: readonly unknown[]) {
    this.strings = strings;
    this.values = values;
  }
}

/** Writes a piece of SQL; as in `db.sql`, every `${value}` is a bound parameter, and every piece is taken in. */
export const part = (strings: TemplateStringsArray, ...values: unknown[]): SqlPart =>
  new SqlPart(strings, values);

/** No SQL at all: the other branch of a piece that is only there sometimes. */
export const NOTHING = part``;

export interface Statement {
  text: string;
  /** The same for the same text, so that each connection parses and plans a statement once. */
  name: string;
  values: unknown[];
}

const names = new Map<string, string>();
/** Texts come from templates in the program, so there are few; more would mean that values got into a text. */
const MAX_TEXTS = 5_000;

function nameOf(text: string): string {
  let name = names.get(text);
  if (!name) {
    if (names.size >= MAX_TEXTS)
      throw new Error("Too many different SQL texts; bind values instead of writing them.");
    name = createHash("sha256").update(text).digest("hex").slice(0, 32);
    names.set(text, name);
  }
  return name;
}

const plain = new WeakMap<TemplateStringsArray, { text: string; name: string }>();

/** A template without pieces always has the same text; it is put together once. */
function plainText(strings: TemplateStringsArray): { text: string; name: string } {
  let known = plain.get(strings);
  if (!known) {
    const text = strings.reduce((all, next, at) => `${all}$${at}${next}`);
    known = { text, name: nameOf(text) };
    plain.set(strings, known);
  }
  return known;
}

/** The text, name and bound values of a template with its pieces. */
export function statement(strings: TemplateStringsArray, given: readonly unknown[]): Statement {
  if (!given.some((value) => value instanceof SqlPart)) return { ...plainText(strings), values: [...given] };
  const values: unknown[] = [];
  const write = (texts: TemplateStringsArray, pieces: readonly unknown[]): string =>
    texts.reduce((all, text, at) => {
      const piece = pieces[at - 1];
      if (piece instanceof SqlPart) return all + write(piece.strings, piece.values) + text;
      return `${all}$${values.push(piece)}${text}`;
    });
  const text = write(strings, given);
  return { text, name: nameOf(text), values };
}
