import type { JobRow } from "@ledgerboard/contracts/jobs";
import type { CSSProperties } from "react";
import { day, words } from "../../ui/format.ts";
import { type Scale, shape } from "./scale.ts";
import { lateWords, waitedWords, windowWords } from "./tell.ts";

/** Share of the lane that a plank's words need: a shorter plank has them beside it. */
const ROOM = 20;
/** Share of the lane a letter of the words takes, generously. */
const LETTER = 1.05;
/** Every board has its own grain. */
const grain = (id: string) => [...id.slice(-6)].reduce((sum, c) => (sum * 31 + c.charCodeAt(0)) % 480, 7);
const span = (left: number, right: number): CSSProperties => ({
  left: `${left}%`,
  width: `${right - left}%`,
});

/**
 * One job's wait as a board: as long as the days waited, notched where stages were passed, the promised
 * window as a mark, what is overdue sticking out past it. For the eye only: the row says it in words.
 */
export function Plank({ row, scale }: { row: JobRow; scale: Scale }) {
  const s = shape(row, scale);
  const label = windowWords(row, scale.today);
  const late = lateWords(row);
  const anchor = s.window ?? (s.start === null ? null : { left: s.start, right: s.start });
  // Words of the window: right of the overdue end, else under the window, pushed in where the lane ends.
  const needs = late ? 0 : (label?.length ?? 0) * LETTER;
  const at = late ? s.right + 0.8 : Math.min(anchor?.left ?? 0, 100 - needs);
  const clash = needs > 0 && at < s.left + ROOM && at + needs > s.left;
  const beside = (s.right - s.left < ROOM || clash) && s.left > ROOM;
  return (
    <div className="lane" aria-hidden="true">
      {s.mark > s.left && (
        <div
          className={s.torn ? "plank torn" : "plank"}
          style={{ ...span(s.left, s.mark), "--grain": `${-grain(row.id)}px` } as CSSProperties}
        />
      )}
      {s.mark < s.right && <div className="plank-late" style={span(s.mark, s.right)} />}
      {s.notches.map((notch) => (
        <i
          key={notch.on}
          className="notch"
          style={{ left: `${notch.at}%` }}
          title={`${notch.stages.map(words).join(", ")}: ${day(notch.on, scale.today)}`}
        />
      ))}
      <span
        className={beside ? "plank-words beside" : "plank-words"}
        style={beside ? { right: `${100 - s.left}%` } : { left: `${s.left}%` }}
      >
        <b>{waitedWords(row)}</b> {words(row.stage)}
      </span>
      {s.window && (
        <div
          className={s.window.beyond ? "window beyond" : "window"}
          style={span(s.window.left, s.window.right)}
        />
      )}
      {s.start !== null && <i className="peg" style={{ left: `${s.start}%` }} />}
      {label && anchor && (
        <span
          className={late ? "window-words late" : "window-words"}
          style={{ left: `${clash && !beside ? s.left + ROOM : at}%` }}
        >
          {late && <b>{late}</b>} {label}
        </span>
      )}
    </div>
  );
}
