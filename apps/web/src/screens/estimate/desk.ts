import type { Revision, ScopeLine } from "@ledgerboard/contracts/estimates";
import { words } from "@ledgerboard/contracts/vocabulary";
import { call } from "../../api/client.ts";
import { api } from "../../api/generated/endpoints.ts";
import { ApiProblem, isPassing, isProblem } from "../../api/problem.ts";
import { invalidate, q, TOUCHES } from "../../api/queries.ts";
import { queryClient } from "../../api/query-client.ts";
import { toast } from "../../ui/toast.tsx";
import { changedFields, changesOf, type Edit, toEdit, workWords } from "./edit.ts";
import { readKept, writeKept } from "./kept.ts";

export type Standing = "waiting" | "saving" | "failed" | "overtaken";

/** A line somebody is changing. Replaced, never written to, so that it can be compared by identity. */
export interface Draft {
  edit: Edit;
  /** The stored line the edit began from. */
  seen: ScopeLine;
  reviewed: boolean | undefined;
  standing: Standing;
  error: unknown;
  /** What somebody else saved meanwhile. */
  theirs: ScopeLine | null;
}

/** Time to go on typing before a line is saved by itself; leaving the line or Enter saves at once. */
const IDLE_MS = 2500;
const RETRY_MS = 8000;

/**
 * The lines of one draft that are being changed. Each is saved by itself with the version it was read at; whatever
 * could not be saved stays here, and through a reload, until it is saved or given up.
 */
export class Desk {
  readonly #jobId: string;
  readonly #revisionId: string;
  readonly #key: string;
  #drafts = new Map<string, Draft>();
  #saved = new Set<string>();
  #timers = new Map<string, ReturnType<typeof setTimeout>>();
  #listeners = new Set<() => void>();
  #turn = 0;
  /** Says what keeps an edit from being saved. */
  problem: (edit: Edit, line: ScopeLine) => string | null = () => null;

  constructor(jobId: string, revisionId: string, memberId: string) {
    this.#jobId = jobId;
    this.#revisionId = revisionId;
    this.#key = `estimate-drafts:${revisionId}:${memberId}`;
    for (const [id, { edit, seen }] of readKept(this.#key))
      this.#drafts.set(id, {
        edit,
        seen,
        reviewed: undefined,
        standing: "waiting",
        error: null,
        theirs: null,
      });
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };
  /** A number that grows with every change. */
  turn = (): number => this.#turn;
  draft = (id: string): Draft | undefined => this.#drafts.get(id);
  isSaved = (id: string): boolean => this.#saved.has(id);
  unsaved = (): Draft[] => [...this.#drafts.values()];

  change(line: ScopeLine, change: Partial<Edit>, reviewed?: boolean, idle = IDLE_MS): void {
    const draft = this.#drafts.get(line.id);
    const edit = { ...(draft?.edit ?? toEdit(line)), ...change };
    const seen = draft?.seen ?? line;
    const mark = reviewed ?? draft?.reviewed;
    const busy = draft?.standing === "saving" || draft?.standing === "overtaken";
    if (!busy && mark === undefined && changedFields(edit, seen).length === 0) {
      this.#drop(line.id);
      return;
    }
    this.#set(line.id, {
      edit,
      seen,
      reviewed: mark,
      standing: busy ? draft.standing : "waiting",
      error: null,
      theirs: draft?.theirs ?? null,
    });
    this.#later(line.id, idle);
  }

  /** Saves a line now, if it has anything that can be saved. */
  flush(id: string): void {
    if (this.#drafts.get(id)?.standing !== "saving") void this.#save(id);
  }
  flushAll = (): void => {
    for (const id of this.#drafts.keys()) this.flush(id);
  };

  /** Settles a conflict: with what was typed here, or with what the other person saved. */
  settle(id: string, keep: "mine" | "theirs"): void {
    const draft = this.#drafts.get(id);
    if (!draft?.theirs || keep === "theirs") {
      this.#drop(id);
      return;
    }
    this.#set(id, { ...draft, seen: draft.theirs, theirs: null, standing: "waiting", error: null });
    this.flush(id);
  }

  /** Gives up what was typed on a line. */
  giveUp = (id: string): void => this.#drop(id);

  /** Takes notice of the lines as they came from the service. */
  follow(lines: readonly ScopeLine[]): void {
    for (const [id, draft] of this.#drafts) {
      const line = lines.find((one) => one.id === id);
      if (!line) {
        const { zoneName, component } = draft.seen;
        toast(
          `Somebody took out ${zoneName}, ${words(component)}. What you had typed: ${workWords(draft.edit)}.`,
          { alarm: true },
        );
        this.#drop(id);
      } else if (line.version > draft.seen.version && draft.standing !== "saving") this.#meet(id, line);
    }
  }

  async #save(id: string): Promise<void> {
    clearTimeout(this.#timers.get(id));
    const draft = this.#drafts.get(id);
    if (!draft || draft.standing === "overtaken") return;
    const { edit, seen, reviewed } = draft;
    const body = { ...changesOf(edit, seen), ...(reviewed !== undefined && { reviewed }) };
    if (Object.keys(body).length === 0) return this.#drop(id);
    if (this.problem(edit, seen)) return;
    this.#set(id, { ...draft, standing: "saving", error: null });
    try {
      const line = await call(api.updateLine, { params: { lineId: id }, version: seen.version, body });
      await this.#arrived(line);
      const now = this.#drafts.get(id);
      const remark = now?.reviewed === reviewed ? undefined : now?.reviewed;
      const retyped = now && now.edit !== edit && changedFields(now.edit, line).length > 0;
      if (now && (retyped || remark !== undefined)) {
        this.#set(id, { ...now, seen: line, reviewed: remark, standing: "waiting" });
        this.#later(id, IDLE_MS);
      } else {
        this.#saved.add(id);
        this.#drop(id);
      }
    } catch (error) {
      const now = this.#drafts.get(id) ?? draft;
      const theirs = isProblem(error, "version-stale") && (error.document.current as ScopeLine | undefined);
      if (theirs) {
        this.#meet(id, theirs);
        void invalidate(["revision"], this.#jobId);
        return;
      }
      this.#set(id, { ...now, standing: "failed", error });
      if (isPassing(error)) this.#later(id, RETRY_MS);
      else if (error instanceof ApiProblem && error.status !== 422) void invalidate(["revision", "job"]);
    }
  }

  /** Somebody saved the line meanwhile, or our own answer was lost on the way. */
  #meet(id: string, theirs: ScopeLine): void {
    const draft = this.#drafts.get(id);
    if (!draft) return;
    const differs = changedFields(draft.edit, theirs).length > 0;
    const unmarked = draft.reviewed !== undefined && draft.reviewed !== theirs.reviewed;
    if (!differs && !unmarked) {
      this.#saved.add(id);
      this.#drop(id);
      return;
    }
    const touched = differs && changedFields(toEdit(theirs), draft.seen).length > 0;
    this.#set(id, {
      ...draft,
      ...(touched ? { theirs, standing: "overtaken" } : { seen: theirs, standing: "waiting" }),
      error: null,
    });
    if (!touched) this.#later(id, IDLE_MS);
  }

  async #arrived(line: ScopeLine): Promise<void> {
    const { queryKey } = q.revision(this.#revisionId);
    await queryClient.cancelQueries({ queryKey });
    queryClient.setQueryData(queryKey, (revision: Revision | undefined) =>
      revision
        ? { ...revision, lines: revision.lines.map((one) => (one.id === line.id ? line : one)) }
        : revision,
    );
    void invalidate(TOUCHES.estimates ?? [], this.#jobId);
  }

  #later(id: string, ms: number): void {
    clearTimeout(this.#timers.get(id));
    this.#timers.set(
      id,
      setTimeout(() => this.flush(id), ms),
    );
  }
  #set(id: string, draft: Draft): void {
    this.#drafts.set(id, draft);
    this.#saved.delete(id);
    this.#tell();
  }
  #drop(id: string): void {
    clearTimeout(this.#timers.get(id));
    if (this.#drafts.delete(id)) this.#tell();
  }
  #tell(): void {
    this.#turn += 1;
    const kept = [...this.#drafts].filter(([, draft]) => changedFields(draft.edit, draft.seen).length > 0);
    writeKept(
      this.#key,
      kept.map(([id, { edit, seen }]) => [id, { edit, seen }]),
    );
    for (const listener of this.#listeners) listener();
  }
}

const desks = new Map<string, Desk>();

/** The desk of a draft; the same one when somebody leaves the screen and comes back. */
export function deskOf(jobId: string, revisionId: string, memberId: string): Desk {
  const key = `${revisionId}:${memberId}`;
  const desk = desks.get(key) ?? new Desk(jobId, revisionId, memberId);
  desks.set(key, desk);
  return desk;
}
