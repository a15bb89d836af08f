import { type CsvError, parse } from "csv-parse/sync";
import { stringify } from "csv-stringify/sync";

/** What is wrong in a file. Lines count from 1, the first being that of the column names; no column for a whole line. */
export interface Fault {
  line: number;
  column: string;
  words: string;
}

/** A line of a file by its column names; cells are trimmed. */
export interface Row {
  line: number;
  cells: Record<string, string>;
}

export interface Table {
  rows: Row[];
  /** Numbers are written with a decimal comma, as spreadsheets do that part columns with semicolons. */
  decimalComma: boolean;
  faults: Fault[];
}

const MAX_ROWS = 5_000;
/** What spreadsheets take for a formula, also behind apostrophes that were there before. */
const FORMULA = /^'*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/;
const QUOTED_FORMULA = /^'+[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/;

/** A text that no spreadsheet takes for a formula: one that begins like a formula gets an apostrophe in front. */
export const harmless = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);
/** The text that `harmless` was given. */
export const plain = (text: string): string => (QUOTED_FORMULA.test(text) ? text.slice(1) : text);

/** CSV by RFC 4180: commas, CRLF, quotes where they are needed. */
export const writeCsv = (
  columns: readonly string[],
  rows: readonly Readonly<Record<string, string>>[],
): string =>
  stringify([[...columns], ...rows.map((row) => columns.map((c) => row[c] ?? ""))], {
    record_delimiter: "windows",
  });

/** The separator used most in the line of column names. */
function separatorOf(text: string): "," | ";" | "\t" {
  const first = /[^\r\n]*[^\s\ufeff][^\r\n]*/.exec(text)?.[0] ?? "";
  const count = (separator: string) => first.split(separator).length;
  return ([",", ";", "\t"] as const).reduce((a, b) => (count(b) > count(a) ? b : a));
}

/** Faults of the column names, checked against those a file must have. */
function checkColumns(names: readonly string[], columns: readonly string[], line: number): Fault[] {
  const fault = (column: string, words: string): Fault => ({ line, column, words });
  return [
    ...names.flatMap((name, i) => {
      if (!columns.includes(name))
        return [
          fault(
            name,
            `There is no column ${name || "without a name"} here; the columns are ${columns.join(", ")}.`,
          ),
        ];
      return names.indexOf(name) < i ? [fault(name, `The column ${name} is there twice.`)] : [];
    }),
    ...columns
      .filter((column) => !names.includes(column))
      .map((column) => fault(column, `The column ${column} is missing; export the list to see its form.`)),
  ];
}

interface Line {
  cells: string[];
  /** The line it begins on; its cells may hold several. */
  line: number;
  /** The line after it. */
  next: number;
}

/** The records of a text, or the first `to` of them. Throws what the reader throws on misplaced quotation marks. */
function recordsOf(text: string, delimiter: string, to = -1): Line[] {
  const found = parse(text, {
    bom: true,
    delimiter,
    raw: true,
    relax_column_count: true,
    record_delimiter: ["\r\n", "\n", "\r"],
    ...(to > 0 && { to }),
  }) as unknown as { record: string[]; raw: string }[];
  let line = 1;
  return found.map(({ record, raw }) => {
    const begins = line;
    // The reader's own count takes a CRLF inside a cell for two.
    line += raw.match(/\r\n|\n|\r/g)?.length ?? 0;
    return { cells: record, line: begins, next: line };
  });
}

function records(text: string, delimiter: string): Line[] | Fault {
  try {
    return recordsOf(text, delimiter);
  } catch (error) {
    const { code, records: good = 0 } = error as CsvError & { records?: number };
    if (typeof code !== "string") throw error;
    const words =
      code === "CSV_QUOTE_NOT_CLOSED"
        ? "A cell begins with a quotation mark that is never closed."
        : 'A quotation mark stands inside a cell; put the cell in quotation marks and write it twice: "2"" screw".';
    const last = good > 0 ? recordsOf(text, delimiter, good).at(-1) : undefined;
    return { line: last?.next ?? 1, column: "", words };
  }
}

/**
 * Reads a file with exactly these columns in any order: parted by commas, semicolons or tabs, with or without a byte
 * order mark, any line ends, empty lines passed over. Of a file that cannot be read nothing but its faults come back.
 */
export function readCsv(text: string, columns: readonly string[]): Table {
  const delimiter = separatorOf(text);
  const decimalComma = delimiter === ";";
  const found = records(text, delimiter);
  if (!Array.isArray(found)) return { rows: [], decimalComma, faults: [found] };
  const filled = found.filter(({ cells }) => cells.some((cell) => cell.trim() !== ""));
  const names = (filled[0]?.cells ?? []).map((name) => name.trim().toLowerCase());
  const faults = checkColumns(names, columns, filled[0]?.line ?? 1);
  if (faults.length > 0) return { rows: [], decimalComma, faults };
  const body = filled.slice(1);
  if (body.length > MAX_ROWS) {
    const words = `A file may hold at most ${MAX_ROWS} rows; this one has ${body.length}. Split it.`;
    return { rows: [], decimalComma, faults: [{ line: body[MAX_ROWS]?.line ?? 1, column: "", words }] };
  }
  for (const { cells, line } of body) {
    if (cells.length === names.length) continue;
    faults.push({
      line,
      column: "",
      words: `This line has ${cells.length} cells instead of ${names.length}.`,
    });
  }
  const rows = body.map(({ cells, line }) => ({
    line,
    cells: Object.fromEntries(names.map((name, i) => [name, cells[i]?.trim() ?? ""])),
  }));
  return { rows: faults.length > 0 ? [] : rows, decimalComma, faults };
}
