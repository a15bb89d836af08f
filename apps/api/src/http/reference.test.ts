import { ENDPOINTS } from "@ledgerboard/contracts";
import Fastify from "fastify";
import { describe, expect, test } from "vitest";
import { openApiDocument } from "./openapi.ts";
import { registerReference } from "./reference.ts";
import { type ApiDocument, referencePage } from "./reference-page.ts";
import { fieldList, typeName } from "./reference-schema.ts";

const page = referencePage(openApiDocument() as unknown as ApiDocument);

describe("the page of the API", () => {
  test("has an entry for every endpoint, with its parameters, body and answers", () => {
    for (const { id, method, summary } of ENDPOINTS) {
      const entry = new RegExp(`<details id="${id}">.*?</details>`, "s").exec(page)?.[0] ?? "";
      expect(entry, id).toContain(`>${method}</b>`);
      expect(entry.length, id).toBeGreaterThan(summary.length + 200);
      expect(entry, id).toContain("<h3>Answers</h3>");
    }
    const signUp = /<details id="signUp">.*?<\/details>/s.exec(page)?.[0] ?? "";
    expect(signUp).toContain("<code>companyName</code> text");
    expect(signUp).toContain("<code>timezone</code> text, 1 to 60 characters");
    expect(signUp).toContain("unless given");
    expect(signUp).toContain("<b>201</b>");
  });

  test("links to every part it has, fits a phone, and needs no script or inline style", () => {
    const links = [...page.matchAll(/href="#([^"]+)"/g)].map((m) => m[1]);
    expect(links.length).toBeGreaterThan(5);
    for (const link of links) expect(page).toContain(`<section id="${link}">`);
    expect(page).toContain('content="width=device-width, initial-scale=1"');
    expect(page).not.toMatch(/<script|<style| style=| on\w+=|https?:\/\//i);
  });

  test("shows what a description contains, never as markup", () => {
    const schema = { properties: { "<b>": { const: "</code><script>" } }, required: ["<b>"] };
    expect(fieldList(schema)).not.toMatch(/<script|<b>/);
    expect(fieldList(schema)).toContain("&#60;b&#62;");
  });
});

test("page and style sheet are served", async () => {
  const app = Fastify();
  await registerReference(app);
  const html = await app.inject("/api/docs");
  expect(html.headers["content-type"]).toBe("text/html; charset=utf-8");
  expect(html.body).toBe(page);
  const href = /rel="stylesheet" href="([^"]+)"/.exec(html.body)?.[1] ?? "";
  const css = await app.inject(href);
  expect(css.headers["content-type"]).toBe("text/css; charset=utf-8");
  expect(css.body).toContain("prefers-color-scheme: dark");
  await app.close();
});

test.each([
  [{ type: "string", minLength: 1, maxLength: 80 }, "text, 1 to 80 characters"],
  [{ type: "array", items: { type: "integer" } }, "list of whole number"],
  [{ anyOf: [{ type: "string" }, { type: "null" }] }, "text or null"],
  [{ type: ["integer", "null"] }, "whole number or null"],
  [{ enum: ["owner", "sales"] }, "&#34;owner&#34; | &#34;sales&#34;"],
  [{ type: "integer", minimum: -9007199254740991, maximum: 10 }, "whole number, at most 10"],
  [{ type: "string", pattern: "^[A-Z]{2}$" }, "text, like ^[A-Z]{2}$"],
  [{ type: "string", format: "uuid", pattern: "^long$" }, "text, uuid"],
  [{}, "anything"],
])("a type in words: %j", (schema, words) => {
  expect(typeName(schema)).toBe(words);
});
