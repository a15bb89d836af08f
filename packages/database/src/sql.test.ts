import { expect, test } from "vitest";
import { NOTHING, part, statement } from "./sql.ts";

const written = (strings: TemplateStringsArray, ...values: unknown[]) => statement(strings, values);

test("values are bound in the order they stand, also those of pieces within pieces", () => {
  const inner = part`b = ${2}`;
  const { text, values } = written`SELECT ${1} WHERE ${part`a AND ${inner} OR c = ${3}`} LIMIT ${4}`;
  expect(text).toBe("SELECT $1 WHERE a AND b = $2 OR c = $3 LIMIT $4");
  expect(values).toEqual([1, 2, 3, 4]);
});

test("a piece that is not there leaves no trace, and the same text has the same name", () => {
  const find = (stage: string | null) =>
    written`SELECT 1 ${stage === null ? NOTHING : part`WHERE s = ${stage}`}`;
  expect(find(null)).toMatchObject({ text: "SELECT 1 ", values: [] });
  expect(find("a").name).toBe(find("b").name);
  expect(find("a").name).not.toBe(find(null).name);
});

test("what a person typed is never part of a text", () => {
  expect(written`SELECT ${"1; DROP TABLE jobs"}`.text).toBe("SELECT $1");
});
