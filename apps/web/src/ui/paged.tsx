import { type QueryKey, type UseQueryOptions, useQueries } from "@tanstack/react-query";
import { type ReactNode, useState } from "react";
import { Button } from "./button.tsx";
import { ErrorState, Loading } from "./states.tsx";

interface PageOf<Row> {
  items: Row[];
  next: string | null;
}

/**
 * A list that is fetched a page at a time, with what stands below it. Cursors name places in the list, so pages stay
 * true to each other; a row that moved from one page to the next between two fetches is shown once.
 */
export function Paged<Row, Key extends QueryKey>({
  page,
  rowKey,
  waiting = 4,
  children,
}: {
  /** The query of the page after a cursor; the first page has none. */
  page: (after: string | undefined) => UseQueryOptions<PageOf<Row>, Error, PageOf<Row>, Key>;
  rowKey: (row: Row) => string;
  /** Lines shown while a page is on its way. */
  waiting?: number;
  /** `complete` is true once everything there is has been fetched. */
  children: (rows: Row[], complete: boolean) => ReactNode;
}) {
  const [cursors, setCursors] = useState<(string | undefined)[]>([undefined]);
  const pages = useQueries({ queries: cursors.map(page) });
  const rows = pages.flatMap((one) => one.data?.items ?? []);
  const last = pages.at(-1);
  const next = last?.data?.next;
  return (
    <>
      {children([...new Map(rows.map((row) => [rowKey(row), row])).values()], next === null)}
      {last?.isPending && <Loading rows={waiting} label="Loading more" />}
      {last?.error && !last.data && <ErrorState error={last.error} onRetry={() => void last.refetch()} />}
      {next && (
        <div className="row more no-print">
          <Button onPress={() => setCursors([...cursors, next])}>Show more</Button>
        </div>
      )}
    </>
  );
}
