import { useRef, useState } from "react";
import type { TypedGeometry } from "./typed.ts";

const MOST = 60;
/** Changes closer together than this are one step back: a drag, a word being typed. */
const ONE_STEP_MS = 900;

/** Steps back while one draws. Kept for as long as the page is open. */
export function useHistory(now: TypedGeometry) {
  const past = useRef<TypedGeometry[]>([]);
  const last = useRef(-Infinity);
  const [length, setLength] = useState(0);
  return {
    can: length > 0,
    /** Called with the drawing as it was before a change. */
    note: (before: TypedGeometry) => {
      const at = performance.now();
      if (at - last.current > ONE_STEP_MS) past.current = [...past.current, before].slice(-MOST);
      last.current = at;
      setLength(past.current.length);
    },
    back: (): TypedGeometry | undefined => {
      let before = past.current.pop();
      while (before && before === now) before = past.current.pop();
      last.current = -Infinity;
      setLength(past.current.length);
      return before;
    },
  };
}
