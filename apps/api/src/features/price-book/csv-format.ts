import type { TenantDb } from "@ledgerboard/database";
import type { Fault, Table } from "./csv-text.ts";
import type { BookContents } from "./queries.ts";

/** What a file says of one code, and where it says it: a path of the API's body leads to a line and a column. */
export interface Wanted<T> {
  fields: T;
  place: (path: readonly PropertyKey[]) => Omit<Fault, "words">;
}
type Stored<T> = T & { id: string; version: number };

/** How one list of a price book is written to a file, read from it, compared and stored. */
export interface ListFormat<T extends { code: string }> {
  /** As the audit trail names them. */
  words: string;
  columns: readonly string[];
  stored(contents: BookContents): Stored<T>[];
  write(item: T): Record<string, string>[];
  read(table: Table): { wanted: Wanted<T>[]; faults: Fault[] };
  /** Every field in words, equal for what is equal. */
  describe(item: T): Record<string, string>;
  /** The book with these in place of its own. */
  into(contents: BookContents, items: Stored<T>[]): BookContents;
  /** What is wrong with what is wanted once it is in the book. */
  check(wanted: readonly Wanted<T>[], before: BookContents, after: BookContents): Fault[];
  insert(db: TenantDb, bookId: string, items: readonly T[]): Promise<unknown>;
  update(db: TenantDb, id: string, item: T): Promise<void>;
}
