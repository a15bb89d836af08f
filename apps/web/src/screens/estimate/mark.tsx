import { errorWords } from "../../api/problem.ts";
import type { Draft } from "./desk.ts";

/** Whether a line is saved: in words, and by the shape before them. */
export function Mark({
  draft,
  saved,
  problem,
}: {
  draft: Draft | undefined;
  saved: boolean;
  problem: string | null;
}) {
  if (!draft) return saved ? <small className="est-mark saved">saved</small> : null;
  if (draft.standing === "saving") return <small className="est-mark">saving…</small>;
  if (draft.standing === "overtaken")
    return <small className="est-mark alarm">not saved: changed by somebody</small>;
  if (draft.standing === "failed")
    return <small className="est-mark alarm">not saved: {errorWords(draft.error)}</small>;
  return <small className="est-mark">not saved yet{problem && `: ${problem}`}</small>;
}
