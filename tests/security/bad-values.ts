import type { Endpoint } from "@ledgerboard/contracts";
import { z } from "zod";
import type { Body } from "./recipes.ts";

type Node = Record<string, unknown>;
type Path = (string | number)[];

/** One body made wrong in one place. */
export interface BadCase {
  what: string;
  body: unknown;
  /** The field an answer has to name: "body.customer.phone". */
  field: string;
}

/** Where any text is taken as it is: it is hashed or thrown away, never shown. */
const ANY_TEXT = new Set(["password", "current", "next", "website"]);

const DEEP = JSON.parse(`${'{"a":'.repeat(400)}1${"}".repeat(400)}`);
const NOT_TEXT = [7, true, { toString: "x" }, ["x"], DEEP];
const NOT_NUMBER = ["7", true, {}, [1], 1e300, -1e300];
const NOT_OBJECT = ["x", 7, true, [], [{}]];
const NOT_ARRAY = ["x", 7, true, {}, { length: 1, 0: "x" }];
const UNPRINTABLE = {
  "a bell": "ring \u0007 ring",
  "a null byte": "cut \u0000 off",
  "an escape": "red \u001b[31m",
  "a change of direction": "gnp\u202egpj.exe",
  "an isolate": "left \u2066 open",
  "half a character": "half \ud83d",
  "the other half": "\udca9 half",
};
const NOT_DECIMAL = [
  "-1",
  "1e3",
  "NaN",
  "Infinity",
  "0x10",
  "1,5",
  "",
  " 1",
  "12345678",
  "1.23456",
  "1.",
  ".5",
  "١٢",
];
const NOT_DAY = [
  "2026-02-30",
  "2026-13-01",
  "2026-1-1",
  "0000-01-01",
  "1066-10-14",
  "9999-12-31",
  "tomorrow",
  "2026-03-02T00:00:00Z",
];
const NOT_INSTANT = [
  "2026-03-02",
  "2026-03-02T25:00:00Z",
  "noon",
  "2026-03-02 12:00",
  "0001-01-01T00:00:00Z",
  "9999-12-31T23:59:59-12:00",
];

const at = (body: unknown, path: Path): unknown => path.reduce<unknown>((n, key) => (n as Node)?.[key], body);

/** A copy with the value at `path` replaced, or taken out when `value` is undefined. */
function changed(body: Body, path: Path, value: unknown): Body {
  const copy = structuredClone(body);
  const last = path.at(-1) as string;
  const parent = at(copy, path.slice(0, -1)) as Node;
  if (value === undefined) delete parent[last];
  else parent[last] = value;
  return copy;
}

/** `anyOf [x, null]` as x that may be null; of several shapes the one the value has. */
function unwrap(node: Node, value: unknown): { node: Node; nullable: boolean } {
  const options = (node.anyOf ?? node.oneOf) as Node[] | undefined;
  if (!options) return { node, nullable: false };
  const rest = options.filter((o) => o.type !== "null");
  const found = rest.find((o) => hasShape(o, value)) ?? rest[0] ?? node;
  return { node: unwrap(found, value).node, nullable: rest.length < options.length };
}

/** Whether the fixed words of an object, such as the name of its shape, are those of the value. */
function hasShape({ properties }: Node, value: unknown): boolean {
  const fixed = Object.entries((properties as Record<string, Node> | undefined) ?? {});
  return fixed.every(([key, { const: word }]) => word === undefined || at(value, [key]) === word);
}

/** The same letters, large for small. */
const otherwise = (word: string): string =>
  word === word.toUpperCase() ? word.toLowerCase() : word.toUpperCase();

function badText(node: Node, name: string, valid: unknown): [string, unknown][] {
  const cases: [string, unknown][] = NOT_TEXT.map((v) => [`${typeof v} for text`, v]);
  const longest = (node.maxLength as number | undefined) ?? 5_000;
  cases.push(["too long", "x".repeat(longest + 1)]);
  if (node.enum || node.const)
    cases.push(
      ["a word not in the list", "no_such_word"],
      ["a word written otherwise", otherwise(String(valid))],
    );
  if (node.format === "uuid")
    cases.push(["no id", "7"], ["no id", "../../x"], ["no id", "00000000-0000-0000-0000-00000000000g"]);
  if (node.format === "date") cases.push(...NOT_DAY.map((v): [string, unknown] => [`${v} for a day`, v]));
  if (node.format === "date-time")
    cases.push(...NOT_INSTANT.map((v): [string, unknown] => [`${v} for an instant`, v]));
  if (String(node.pattern).startsWith("^\\d{1,7}"))
    cases.push(...NOT_DECIMAL.map((v): [string, unknown] => [`${v} for a number`, v]));
  if (!ANY_TEXT.has(name)) {
    for (const [what, text] of Object.entries(UNPRINTABLE)) cases.push([what, text]);
    cases.push(["a null byte at the end of what was right", `${valid}\u0000`]);
  }
  return cases;
}

function badNumber(node: Node): [string, unknown][] {
  const cases: [string, unknown][] = NOT_NUMBER.map((v) => [`${JSON.stringify(v)} for a number`, v]);
  if (node.multipleOf) cases.push(["between two marks of the tape", 1.03]);
  if (node.type === "integer") cases.push(["part of a whole number", 1.5], ["past exact numbers", 2 ** 53]);
  const { minimum, maximum } = node as { minimum?: number; maximum?: number };
  if (minimum !== undefined && minimum > -1e15)
    cases.push(["one too few", minimum - 1], ["far too few", -1e12]);
  if (maximum !== undefined && maximum < 1e15)
    cases.push(["one too many", maximum + 1], ["far too many", 1e15]);
  return cases;
}

/** What no value of this schema may be. */
function badOf(node: Node, name: string, valid: unknown): [string, unknown][] {
  if (node.type === "string" || node.enum || node.const) return badText(node, name, valid);
  if (node.type === "integer" || node.type === "number") return badNumber(node);
  if (node.type === "boolean")
    return ["true", 1, 0, {}, []].map((v) => [`${JSON.stringify(v)} for yes or no`, v]);
  if (node.type === "array") return NOT_ARRAY.map((v) => [`${JSON.stringify(v)} for a list`, v]);
  if (node.type === "object") return NOT_OBJECT.map((v) => [`${JSON.stringify(v)} for fields`, v]);
  throw new Error(
    `No bad values are known for the type ${JSON.stringify(node.type)} of ${name}; add them here.`,
  );
}

/** Every way of making a body wrong in one place, read off the endpoint's schema. */
export function badCases(endpoint: Endpoint, valid: Body): BadCase[] {
  if (!endpoint.body) return [];
  const cases: BadCase[] = [];
  const visit = (raw: unknown, path: Path, required: boolean): void => {
    const field = ["body", ...path].join(".");
    const value = at(valid, path);
    const { node, nullable } = unwrap(raw as Node, value);
    if (path.length > 0) {
      const name = String(path.findLast((p) => typeof p === "string"));
      const bad = badOf(node, name, value);
      if (!nullable) bad.push(["null", null]);
      if (required) bad.push(["missing", undefined]);
      for (const [what, v] of bad) cases.push({ what, field, body: changed(valid, path, v) });
    }
    if (node.type === "array" && Array.isArray(value) && value.length > 0)
      visit(node.items, [...path, 0], false);
    if (node.type !== "object" || typeof value !== "object" || value === null) return;
    for (const [key, child] of Object.entries((node.properties as Node) ?? {})) {
      if (at(valid, [...path, key]) === undefined) continue;
      visit(child, [...path, key], ((node.required as string[]) ?? []).includes(key));
    }
    for (const key of ["unknownField", "companyId", "company_id", "id", "constructor"]) {
      if (at(valid, [...path, key]) === undefined || key === "constructor") {
        cases.push({ what: `an unknown field ${key}`, field, body: changed(valid, [...path, key], "x") });
      }
    }
  };
  visit(z.toJSONSchema(endpoint.body, { io: "input", unrepresentable: "any" }), [], true);
  return cases;
}
