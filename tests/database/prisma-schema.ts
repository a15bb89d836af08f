/** What prisma/schema.prisma says of one column, in the words of the PostgreSQL catalog. */
export interface ColumnModel {
  type: string;
  nullable: boolean;
  /** The default as written, or null. "generated" where the database makes the value. */
  default: string | null;
}
export interface TableModel {
  columns: Map<string, ColumnModel>;
  primaryKey: string[];
  unique: string[][];
}

const SCALARS: Record<string, string> = {
  String: "text",
  Int: "integer",
  Boolean: "boolean",
  DateTime: "timestamp(3) without time zone",
  Decimal: "numeric(65,30)",
  Json: "jsonb",
  BigInt: "bigint",
  Float: "double precision",
  Bytes: "bytea",
};

function nativeType(attribute: string): string {
  const [, name, args] = /^@db\.(\w+)(?:\(([^)]*)\))?$/.exec(attribute) ?? [];
  if (name === "Uuid") return "uuid";
  if (name === "Date") return "date";
  // Six digits is all PostgreSQL keeps, and what it says without being told.
  if (name === "Timestamptz" && args === "6") return "timestamp with time zone";
  if (name === "Decimal") return `numeric(${args?.replaceAll(" ", "")})`;
  throw new Error(`The native type ${attribute} is not known here; add how PostgreSQL prints it.`);
}

/** Attributes of a field line, splitting at "@" outside brackets and quotes. */
function attributes(text: string): string[] {
  const found: string[] = [];
  let depth = 0;
  let quoted = false;
  for (const [i, c] of [...text].entries()) {
    if (c === '"' && text[i - 1] !== "\\") quoted = !quoted;
    if (!quoted && c === "(") depth++;
    if (!quoted && c === ")") depth--;
    if (c === "@" && !quoted && depth === 0) found.push("");
    if (found.length > 0) found[found.length - 1] += c;
  }
  return found.map((a) => a.trim());
}

const argument = (attribute: string): string => /\((.*)\)$/s.exec(attribute)?.[1] ?? "";
const unquote = (text: string): string => text.replace(/^"(.*)"$/s, "$1").replaceAll('\\"', '"');

function defaultOf(attribute: string | undefined): string | null {
  if (!attribute) return null;
  const value = argument(attribute);
  const made = /^dbgenerated\((.*)\)$/s.exec(value);
  if (!made) return value;
  return made[1] ? unquote(made[1]) : "generated";
}

/** Reads the models of a schema.prisma without relations. Throws on a line it does not understand. */
export function parsePrismaSchema(source: string): Map<string, TableModel> {
  const tables = new Map<string, TableModel>();
  for (const [, model, body] of source.matchAll(/^model (\w+) \{\n(.*?)^\}/gms)) {
    const names = new Map<string, string>();
    const table: TableModel = { columns: new Map(), primaryKey: [], unique: [] };
    const blocks: string[] = [];
    for (const line of (body ?? "").split("\n").map((l) => l.trim())) {
      if (line === "" || line.startsWith("//")) continue;
      if (line.startsWith("@@")) {
        blocks.push(line);
        continue;
      }
      const [, name, scalar, list, optional, rest] = /^(\w+)\s+(\w+)(\[\])?(\?)?\s*(.*)$/.exec(line) ?? [];
      const base = scalar && SCALARS[scalar];
      if (!name || !base) throw new Error(`${model}: cannot read "${line}"`);
      const found = attributes(rest ?? "");
      const unknown = found.find((a) => !/^@(map|default|db\.)/.test(a));
      if (unknown) throw new Error(`${model}.${name}: cannot read "${unknown}"`);
      const mapped = found.find((a) => a.startsWith("@map("));
      const native = found.find((a) => a.startsWith("@db."));
      const column = mapped ? unquote(argument(mapped)) : name;
      names.set(name, column);
      table.columns.set(column, {
        type: `${native ? nativeType(native) : base}${list ?? ""}`,
        nullable: optional === "?",
        default: defaultOf(found.find((a) => a.startsWith("@default("))),
      });
    }
    let tableName = model ?? "";
    for (const block of blocks) {
      const columns = () =>
        (/\[([^\]]*)\]/.exec(block)?.[1] ?? "").split(",").map((f) => names.get(f.trim()) ?? `?${f}`);
      if (block.startsWith("@@map(")) tableName = unquote(argument(block));
      else if (block.startsWith("@@id(")) table.primaryKey = columns();
      else if (block.startsWith("@@unique(")) table.unique.push(columns());
      else if (!block.startsWith("@@index(")) throw new Error(`${model}: cannot read "${block}"`);
    }
    tables.set(tableName, table);
  }
  return tables;
}
