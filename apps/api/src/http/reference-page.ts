import { escapeHtml, fieldList, type Schema, typeName } from "./reference-schema.ts";

interface Parameter {
  name: string;
  in: string;
  required?: boolean;
  description?: string;
  schema: Schema;
}
interface Content {
  content?: Record<string, { schema: Schema }>;
}
interface Operation {
  operationId: string;
  tags: string[];
  summary: string;
  description?: string;
  parameters?: Parameter[];
  requestBody?: Content;
  responses: Record<string, Content & { description: string }>;
}
export interface ApiDocument {
  info: { title: string; version: string; description: string };
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, Schema> };
}

const words = (tag: string): string => escapeHtml(tag.replaceAll(/[_-]/g, " "));

/** The whole API as one page without script: it prints, searches and reads aloud like any text. */
export function referencePage(document: ApiDocument): string {
  const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
  );
  const tags = [...new Set(operations.flatMap(({ operation }) => operation.tags))];
  const links = tags.map((tag) => `<li><a href="#${escapeHtml(tag)}">${words(tag)}</a></li>`);
  const sections = tags.map((tag) => {
    const own = operations.filter(({ operation }) => operation.tags.includes(tag));
    const entries = own.map(({ path, method, operation }) => entry(path, method, operation));
    return `<section id="${escapeHtml(tag)}"><h2>${words(tag)}</h2>${entries.join("")}</section>`;
  });
  const schemas = Object.entries(document.components.schemas).map(
    ([name, schema]) =>
      `<section id="${escapeHtml(name)}"><h2>${escapeHtml(name)}</h2>${fieldList(schema)}</section>`,
  );
  const { title, version, description } = document.info;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(title)}</title>
<link rel="stylesheet" href="/api/docs/reference.css">
</head>
<body>
<header><h1>${escapeHtml(title)} <small>version ${escapeHtml(version)}</small></h1>
<p>${escapeHtml(description)}</p>
<p><a href="/api/v1/openapi.json">The same for programs (OpenAPI 3.1)</a></p>
<nav aria-label="Parts of the API"><ul>${links.join("")}</ul></nav></header>
<main>${sections.join("\n")}${schemas.join("\n")}</main>
</body>
</html>`;
}

function entry(path: string, method: string, operation: Operation): string {
  const { parameters = [], requestBody, responses } = operation;
  const listed = parameters.map((p) => {
    const optional = p.required ? "" : " <i>optional</i>";
    const note = p.description ? `: ${escapeHtml(p.description)}` : "";
    return `<li><code>${escapeHtml(p.name)}</code> in the ${p.in}, ${typeName(p.schema)}${optional}${note}</li>`;
  });
  const answers = Object.entries(responses).map(([status, { description, content }]) => {
    const schema = content?.["application/json"]?.schema;
    const detail = schema ? ` ${typeName(schema)}${fieldList(schema)}` : "";
    return `<li><b>${escapeHtml(status)}</b> ${escapeHtml(description)}${detail}</li>`;
  });
  const body = requestBody?.content?.["application/json"]?.schema;
  return `<details id="${escapeHtml(operation.operationId)}">
<summary><b class="${escapeHtml(method)}">${escapeHtml(method.toUpperCase())}</b> <code>${breakable(path)}</code>
<span>${escapeHtml(operation.summary)}</span></summary>
${operation.description ? `<p>${escapeHtml(operation.description)}</p>` : ""}
${listed.length > 0 ? `<h3>Parameters</h3><ul>${listed.join("")}</ul>` : ""}
${body ? `<h3>Body</h3><p>${typeName(body)}</p>${fieldList(body)}` : ""}
<h3>Answers</h3><ul>${answers.join("")}</ul>
</details>`;
}

/** A long path may break after a slash, so that it fits a phone. */
const breakable = (path: string): string => escapeHtml(path).replaceAll("/", "/<wbr>");

export const REFERENCE_CSS = `:root { color-scheme: light dark; --ground: #fbfaf6; --ink: #1d2224; --quiet: #5a6265; --rule: #dcd8cd;
  --timber: #8a5a2b; --sheet: #ffffff; }
@media (prefers-color-scheme: dark) { :root { --ground: #171a1b; --ink: #ece9e2; --quiet: #a4aaa9; --rule: #3a3f40;
  --timber: #d9a56b; --sheet: #1f2324; } }
body { margin: 0 auto; max-width: 60rem; padding: 1rem; background: var(--ground); color: var(--ink);
  font: 1rem/1.5 system-ui, "Helvetica Neue", Arial, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.75rem; line-height: 1.2; } h1 small { font-size: 1rem; font-weight: normal; color: var(--quiet); }
h2 { margin: 2rem 0 .5rem; font-size: 1.25rem; text-transform: capitalize; border-bottom: 2px solid var(--timber); }
h3 { margin: 1rem 0 .25rem; font-size: 1rem; }
a { color: inherit; } a:focus-visible, summary:focus-visible { outline: 3px solid var(--timber); outline-offset: 2px; }
nav ul { display: flex; flex-wrap: wrap; gap: .25rem 1rem; padding: 0; list-style: none; }
nav a { display: inline-block; padding: .375rem 0; text-transform: capitalize; }
details { border-bottom: 1px solid var(--rule); } details[open] { background: var(--sheet); padding: 0 .75rem .75rem; }
summary { padding: .625rem 0; cursor: pointer; } summary span { display: block; color: var(--quiet); }
summary b { display: inline-block; min-width: 4.25rem; color: var(--timber); }
code { font: .9375rem/1.4 ui-monospace, "SFMono-Regular", Menlo, Consolas, monospace; }
details ul { margin: 0; padding-left: 1.125rem; } i { color: var(--quiet); }
@media print { details { break-inside: avoid; } }
`;
