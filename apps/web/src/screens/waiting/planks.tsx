import type { JobRow } from "@ledgerboard/contracts/jobs";
import { useNavigate } from "@tanstack/react-router";
import {
  type CSSProperties,
  type KeyboardEvent,
  type MouseEvent,
  useCallback,
  useMemo,
  useState,
} from "react";
import { day } from "../../ui/format.ts";
import { Chunk, type Filter } from "./chunk.tsx";
import { makeScale, type Scale, ticks } from "./scale.ts";

/** Jobs as planks on a common axis of days. `first` is the first page, which sets the scale. */
export function Planks({
  filter,
  first,
  today,
  label,
  onPin,
}: {
  filter: Filter;
  first: readonly JobRow[];
  today: string;
  label: string;
  onPin: ((row: JobRow) => void) | undefined;
}) {
  const [cursors, setCursors] = useState<(string | undefined)[]>([undefined]);
  // A live change must not shift every plank: the scale only follows when its bounds really move.
  const fresh = makeScale(first, today);
  // biome-ignore lint/correctness/useExhaustiveDependencies: its bounds are all a scale is made of
  const scale = useMemo(() => fresh, [fresh.from, fresh.to, today]);
  const onNext = useCallback((index: number, next: string | null) => {
    setCursors((now) => {
      if (next === null) return now.length > index + 1 ? now.slice(0, index + 1) : now;
      if (now[index + 1] === next) return now;
      return [...now.slice(0, index + 1), next, ...now.slice(index + 2)];
    });
  }, []);
  const navigate = useNavigate();
  const go = (event: MouseEvent<HTMLElement>) => {
    const link = (event.target as HTMLElement).closest<HTMLAnchorElement>("a.wait-link");
    const plain = event.button === 0 && !(event.metaKey || event.ctrlKey || event.shiftKey || event.altKey);
    const jobId = link?.dataset.job;
    if (!jobId || !plain) return;
    event.preventDefault();
    void navigate({ to: "/jobs/$jobId", params: { jobId } });
  };
  const style = { "--today": `${scale.at(today)}%` } as CSSProperties;
  return (
    <section className="planks" aria-label={label} style={style} onClick={go} onKeyDown={walk}>
      <Axis scale={scale} />
      {cursors.map((after, index) => (
        <Chunk
          // biome-ignore lint/suspicious/noArrayIndexKey: a page is its place in the list
          key={index}
          filter={filter}
          after={after}
          index={index}
          scale={scale}
          onNext={onNext}
          onPin={onPin}
        />
      ))}
    </section>
  );
}

function Axis({ scale }: { scale: Scale }) {
  const months = ticks(scale);
  return (
    <>
      <div className="wait axis-row" aria-hidden="true">
        <div>Job</div>
        <div className="axis">
          {months.map((tick) => (
            <span
              key={tick.on}
              className={tick.minor ? "tick minor" : "tick"}
              style={{ left: `${tick.at}%` }}
            >
              {day(tick.on, scale.today)}
            </span>
          ))}
          <span className="tick now">today</span>
        </div>
        <div>Next act</div>
      </div>
      <div className="wait axis-lines" aria-hidden="true">
        <div />
        <div className="lines">
          {months.map((tick) => (
            <i key={tick.on} style={{ left: `${tick.at}%` }} />
          ))}
        </div>
      </div>
    </>
  );
}

/** Arrow keys step from row to row. */
function walk(event: KeyboardEvent<HTMLElement>): void {
  const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  const from = event.target as HTMLElement;
  if (step === 0 || !from.classList.contains("wait-link")) return;
  const links = [...event.currentTarget.querySelectorAll<HTMLElement>(".wait-link")];
  const to = links[links.indexOf(from) + step];
  if (!to) return;
  event.preventDefault();
  to.focus();
}
