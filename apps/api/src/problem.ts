import { PROBLEMS, type ProblemDocument, type ProblemName } from "@ledgerboard/contracts";

export interface FieldError {
  path: string;
  message: string;
}

interface Facts {
  errors?: FieldError[];
  current?: unknown;
  companies?: { slug: string; name: string }[];
  /** Seconds after which another try makes sense. */
  retryAfter?: number;
}

/** The one way the API says no: a named problem with a sentence that says what to do (RFC 9457). */
export class Problem extends Error {
  readonly problem: ProblemName;
  readonly facts: Facts;

  constructor(problem: ProblemName, detail: string, facts: Facts = {}, cause?: unknown) {
    super(detail, { cause });
    this.problem = problem;
    this.facts = facts;
  }

  get status(): number {
    return PROBLEMS[this.problem].status;
  }

  document(instance: string, requestId: string): ProblemDocument {
    const { errors, current, companies } = this.facts;
    return {
      type: `/problems/${this.problem}`,
      title: PROBLEMS[this.problem].title,
      status: this.status,
      detail: this.message,
      instance,
      requestId,
      ...(errors && { errors }),
      ...(current !== undefined && { current }),
      ...(companies && { companies }),
    };
  }
}

/** Absent and another company's are answered alike, so ids cannot be probed. */
export const notFound = (what: string): Problem =>
  new Problem("not-found", `There is no such ${what} in your company. It may have been removed.`);

/** A move the job's state does not allow, with the plain reason. */
export const illegalMove = (why: string): Problem => new Problem("illegal-move", why);

/** One field at fault. */
export const invalid = (path: string, message: string): Problem =>
  new Problem("invalid-input", "Some fields need another look.", { errors: [{ path, message }] });
