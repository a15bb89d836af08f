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

function records(text: string, delimiter: string): { record: string[]; line: number }[] | Fault {
  try {
    const found = parse(text, {
      bom: true,
      delimiter,
      info: true,
      relax_column_count: true,
      record_delimiter: ["\r\n", "\n", "\r"],
    }) as unknown as { record: string[]; info: { lines: number } }[];
    // The reader tells where a record ends; cells may hold several lines, so it begins after the one before.
    return found.map(({ record }, i) => ({ record, line: (found[i - 1]?.info.lines ?? 0) + 1 }));
  } catch (error) {
    const { code, lines } = error as CsvError & { lines?: number };
    if (typeof code !== "string") throw error;
    const words =
      code === "CSV_QUOTE_NOT_CLOSED"
        ? "A cell begins with a quotation mark that is never closed."
        : 'A quotation mark stands inside a cell; put the cell in quotation marks and write it twice: "2"" screw".';
    return { line: lines ?? 1, column: "", words };
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
  const filled = found.filter(({ record }) => record.some((cell) => cell.trim() !== ""));
  const names = (filled[0]?.record ?? []).map((name) => name.trim().toLowerCase());
  const faults = checkColumns(names, columns, filled[0]?.line ?? 1);
  if (faults.length > 0) return { rows: [], decimalComma, faults };
  const body = filled.slice(1);
  if (body.length > MAX_ROWS) {
    const words = `A file may hold at most ${MAX_ROWS} rows; this one has ${body.length}. Split it.`;
    return { rows: [], decimalComma, faults: [{ line: body[MAX_ROWS]?.line ?? 1, column: "", words }] };
  }
  for (const { record, line } of body) {
    if (record.length === names.length) continue;
    faults.push({
      line,
      column: "",
      words: `This line has ${record.length} cells instead of ${names.length}.`,
    });
  }
  const rows = body.map(({ record, line }) => ({
    line,
    cells: Object.fromEntries(names.map((name, i) => [name, record[i]?.trim() ?? ""])),
  }));
  return { rows: faults.length > 0 ? [] : rows, decimalComma, faults };
}
