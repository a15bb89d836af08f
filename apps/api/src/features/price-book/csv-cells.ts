import type { Endpoint, Input } from "@ledgerboard/contracts";
import { multiply, ratio, toDecimal } from "@ledgerboard/contracts/money";
import { type Fault, plain, type Row, type Table } from "./csv-text.ts";

/** Reads the cells of a file and collects what is wrong with them. A cell at fault is read as null. */
export class Cells {
  readonly faults: Fault[] = [];
  readonly #comma: boolean;

  constructor({ decimalComma }: Pick<Table, "decimalComma">) {
    this.#comma = decimalComma;
  }

  fault(row: Row, column: string, words: string): null {
    this.faults.push({ line: row.line, column, words });
    return null;
  }

  text(row: Row, column: string): string {
    return plain(row.cells[column] ?? "");
  }

  /** Decimal text, not negative, without idle zeros; `places` decimals at most. A blank cell is `blank`. */
  number(row: Row, column: string, places: number, blank: string | null = null): string | null {
    const raw = (row.cells[column] ?? "").replace(/^\$|[\s\u00a0]|%$/g, "");
    if (raw === "") return blank ?? this.fault(row, column, "A number is missing here.");
    const text = this.#comma ? raw.replace(",", ".") : raw;
    if (!/^-?\d{1,12}(\.\d+)?$/.test(text))
      return this.fault(row, column, "Not a number; write it like 1200.50, without marks for thousands.");
    // 1.200 may be twelve hundred where the comma is the decimal mark.
    if (this.#comma && /^[1-9]\d{0,2}\.\d{3}$/.test(raw))
      return this.fault(row, column, "Write it without a mark for thousands and with a decimal comma.");
    if (text.startsWith("-")) return this.fault(row, column, "Not below 0.");
    const decimals = (text.split(".")[1] ?? "").replace(/0+$/, "");
    if (decimals.length > places)
      return this.fault(row, column, places === 0 ? "A whole number." : `At most ${places} decimals.`);
    return toDecimal(ratio(text.includes(".") ? `${text.split(".")[0]}.${decimals || "0"}` : text), places);
  }

  /** A number of hundreds: dollars as cents, per cent as basis points. */
  hundredths(row: Row, column: string, places: number, blank: string | null = null): string | null {
    const value = this.number(row, column, places + 2, blank);
    return value === null ? null : toDecimal(multiply(ratio(value), ratio(100)), places);
  }

  /** Whole hundredths as a number; null where the cell is at fault. */
  wholeHundredths(row: Row, column: string, blank: string | null = null): number | null {
    const value = this.hundredths(row, column, 0, blank);
    return value === null ? null : Number(value);
  }

  yesNo(row: Row, column: string): boolean | null {
    const text = this.text(row, column).toLowerCase();
    if (["yes", "true", "1"].includes(text)) return true;
    if (["no", "false", "0", ""].includes(text)) return false;
    return this.fault(row, column, "Write yes or no.");
  }

  /** Faults every cell of these columns that is filled although nothing belongs there. */
  blank(row: Row, columns: readonly string[], words: string): void {
    for (const column of columns) if (row.cells[column]) this.fault(row, column, words);
  }

  /**
   * The row that states a value all rows of one code share: the first in which the column is filled, or the first of
   * all. Another row may repeat it or leave it blank; one that says otherwise is at fault.
   */
  shared(rows: readonly [Row, ...Row[]], column: string): Row {
    const stating = rows.find((row) => row.cells[column]) ?? rows[0];
    const value = stating.cells[column] ?? "";
    for (const row of rows) {
      const other = row.cells[column];
      if (other && other !== value)
        this.fault(
          row,
          column,
          `${row.cells.code} has ${value} on line ${stating.line}; both must say the same.`,
        );
    }
    return stating;
  }

  /** The rows of each code, in the order the codes first appear. */
  byCode(rows: readonly Row[]): [Row, ...Row[]][] {
    const groups = new Map<string, [Row, ...Row[]]>();
    for (const row of rows) {
      const code = this.text(row, "code");
      const group = groups.get(code);
      if (code === "") this.fault(row, "code", "The code is missing.");
      else if (group) group.push(row);
      else groups.set(code, [row]);
    }
    return [...groups.values()];
  }

  /** What the API takes for one of these, by the rules of its endpoint; null, with faults in their places, otherwise. */
  accepted<E extends Endpoint>(
    endpoint: E,
    value: unknown,
    place: (path: readonly PropertyKey[]) => Omit<Fault, "words">,
  ): Input<E>["body"] | null {
    const result = endpoint.body?.safeParse(value);
    if (!result) throw new Error(`${endpoint.id} takes no body.`);
    if (result.success) return result.data as Input<E>["body"];
    for (const issue of result.error.issues) {
      const words =
        issue.code === "invalid_value" ? `Choose one of ${issue.values.join(", ")}.` : issue.message;
      this.faults.push({ ...place(issue.path), words });
    }
    return null;
  }
}

/** Dollars or per cent of whole or broken hundredths, as text. */
export const ofHundredths = (value: string | number): string =>
  toDecimal(multiply(ratio(value), { num: 1n, den: 100n }), 6);
export const yesNo = (value: boolean): string => (value ? "yes" : "no");
