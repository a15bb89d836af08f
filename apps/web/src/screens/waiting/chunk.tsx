import type { JobRow } from "@ledgerboard/contracts/jobs";
import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { startTransition, useEffect, useLayoutEffect, useRef, useState } from "react";
import { q } from "../../api/queries.ts";
import { ErrorState } from "../../ui/states.tsx";
import { Row } from "./row.tsx";
import type { Scale } from "./scale.ts";

export type Filter = NonNullable<Parameters<typeof q.jobs>[0]>;
export const PAGE_SIZE = 30;
/** Read from the server and drawn this far before they are scrolled into sight. */
const AHEAD = "1600px 0px";
const ROW_HEIGHT = 84;

/**
 * One page of the list. Only pages near the window are in the document and kept fresh; the others are empty
 * space of the height they had, so that ten thousand rows scroll like fifty.
 */
export function Chunk({
  filter,
  after,
  index,
  scale,
  onNext,
  onPin,
}: {
  filter: Filter;
  after: string | undefined;
  index: number;
  scale: Scale;
  onNext: (index: number, next: string | null) => void;
  onPin: ((row: JobRow) => void) | undefined;
}) {
  const frame = useRef<HTMLDivElement>(null);
  const [near, setNear] = useState(index === 0);
  const [height, setHeight] = useState(PAGE_SIZE * ROW_HEIGHT);
  const page = useQuery({
    ...q.jobs({ ...filter, after }),
    enabled: near,
    placeholderData: keepPreviousData,
  });
  const rows = page.data?.items;
  const next = page.isPlaceholderData ? undefined : page.data?.next;

  useEffect(() => {
    if (next !== undefined) onNext(index, next);
  }, [index, next, onNext]);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const observer = new IntersectionObserver(
      // In slices between frames: a page of rows must not hold up the scrolling that asked for it.
      ([entry]) => startTransition(() => setNear(entry?.isIntersecting ?? false)),
      { rootMargin: AHEAD },
    );
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  const drawn = near && rows !== undefined;
  useLayoutEffect(() => {
    const element = frame.current;
    if (!drawn || !element) return;
    const observer = new ResizeObserver(() => setHeight(element.offsetHeight));
    observer.observe(element);
    return () => observer.disconnect();
  }, [drawn]);

  return (
    <div ref={frame} className={drawn ? undefined : "not-drawn"} style={drawn ? undefined : { height }}>
      {drawn && (
        <ol className="plain" start={index * PAGE_SIZE + 1}>
          {rows.map((row) => (
            <Row key={row.id} row={row} scale={scale} onPin={onPin} />
          ))}
        </ol>
      )}
      {near && !rows && page.error && <ErrorState error={page.error} onRetry={() => void page.refetch()} />}
    </div>
  );
}
