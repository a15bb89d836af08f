/** JSON Schema as nested lists a person can read. */
export interface Schema {
  $ref?: string;
  type?: string | string[];
  description?: string;
  format?: string;
  pattern?: string;
  enum?: unknown[];
  const?: unknown;
  default?: unknown;
  properties?: Record<string, Schema>;
  required?: string[];
  items?: Schema;
  anyOf?: Schema[];
  oneOf?: Schema[];
  additionalProperties?: Schema | boolean;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  minLength?: number;
  maxLength?: number;
  minItems?: number;
  maxItems?: number;
}

export const escapeHtml = (text: string): string => text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);

/** The fields of an object, or of the objects in a list, as a nested list; nothing for anything simpler. */
export function fieldList(schema: Schema): string {
  const inner = shape(schema);
  const entries = Object.entries(inner?.properties ?? {});
  if (!inner || entries.length === 0) return "";
  const items = entries.map(([name, field]) => {
    const optional = inner.required?.includes(name) ? "" : ` <i>optional</i>`;
    return `<li><code>${escapeHtml(name)}</code> ${typeName(field)}${optional}${fieldList(field)}</li>`;
  });
  return `<ul>${items.join("")}</ul>`;
}

/** The one object inside a schema: itself, what a list holds, or the only alternative to null. */
function shape(schema: Schema): Schema | undefined {
  if (schema.properties) return schema;
  if (schema.items) return shape(schema.items);
  return alternatives(schema)
    .map(shape)
    .find((s) => s !== undefined);
}

const alternatives = (schema: Schema): Schema[] => schema.anyOf ?? schema.oneOf ?? [];

/** A type in a few words: "text or null, at most 80 characters". */
export function typeName(schema: Schema): string {
  const limits = limitsOf(schema);
  return escapeHtml([bareType(schema), ...limits].join(", "));
}

const NAMES: Record<string, string> = {
  string: "text",
  integer: "whole number",
  boolean: "true or false",
};

function bareType(schema: Schema): string {
  if (schema.$ref) return schema.$ref.split("/").at(-1) ?? "object";
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.enum) return schema.enum.map((v) => JSON.stringify(v)).join(" | ");
  const choices = alternatives(schema);
  if (choices.length > 0) return choices.map(bareType).join(" or ");
  const types = [schema.type ?? "anything"].flat();
  return types
    .map((type) => (type === "array" ? `list of ${bareType(schema.items ?? {})}` : (NAMES[type] ?? type)))
    .join(" or ");
}

function limitsOf(schema: Schema): string[] {
  const { minimum, exclusiveMinimum, maximum, minLength, maxLength, minItems, maxItems } = schema;
  return [
    ...(schema.format ? [schema.format] : schema.pattern ? [`like ${schema.pattern}`] : []),
    ...(exclusiveMinimum === undefined ? [] : [`more than ${exclusiveMinimum}`]),
    ...range(minimum, maximum, ""),
    ...range(minLength, maxLength, " characters"),
    ...range(minItems, maxItems, " of them"),
    ...(schema.default === undefined ? [] : [`${JSON.stringify(schema.default)} unless given`]),
  ];
}

/** "1 to 80 characters"; a bound that only says what a program can hold is left out. */
function range(from: number | undefined, to: number | undefined, unit: string): string[] {
  const [low, high] = [from, to].map((n) =>
    n !== undefined && Math.abs(n) < Number.MAX_SAFE_INTEGER ? n : undefined,
  );
  if (low !== undefined && high !== undefined) return [`${low} to ${high}${unit}`];
  if (low !== undefined) return [`at least ${low}${unit}`];
  return high === undefined ? [] : [`at most ${high}${unit}`];
}
