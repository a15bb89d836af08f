import { z } from "zod";

type Node = Record<string, unknown>;

/** `anyOf [x, null]` as `x` that may be null: fast-json-stringify then needs no run-time matching. */
function flattenNullable(node: Node): void {
  const options = node.anyOf as Node[] | undefined;
  if (options?.length !== 2) return;
  const rest = options.find((o) => o.type !== "null");
  if (!rest || rest === options.find((o) => o !== rest) || !options.some((o) => o.type === "null")) return;
  if (rest.oneOf) {
    // Several shapes or null: "nullable" would need one type.
    node.anyOf = [...(rest.oneOf as Node[]), { type: "null" }];
    return;
  }
  delete node.anyOf;
  Object.assign(node, rest);
  if (typeof rest.type === "string" && rest.type !== "object" && rest.type !== "array")
    node.type = [rest.type, "null"];
  else node.nullable = true;
}

/** The schema Fastify serialises an answer with: fields not declared cannot leak. */
export function serializerSchema(schema: z.ZodType): Node {
  const json = z.toJSONSchema(schema, {
    target: "draft-7",
    unrepresentable: "any",
    override: ({ jsonSchema }) => {
      const node = jsonSchema as Node;
      delete node.pattern;
      delete node.format;
      flattenNullable(node);
    },
  }) as Node;
  delete json.$schema;
  return json;
}
