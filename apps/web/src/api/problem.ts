import type { ProblemDocument, ProblemName } from "@ledgerboard/contracts/problem";

/** A refusal by the service (RFC 9457), in words that can be shown. */
export class ApiProblem extends Error {
  readonly document: ProblemDocument;

  constructor(document: ProblemDocument) {
    super(document.detail ?? document.title);
    this.name = "ApiProblem";
    this.document = document;
  }

  get status(): number {
    return this.document.status;
  }
  get title(): string {
    return this.document.title;
  }
  get errors(): { path: string; message: string }[] {
    return this.document.errors ?? [];
  }
  /** True for one of the stable problem types, such as "version-stale". */
  is(name: ProblemName): boolean {
    return this.document.type.endsWith(`/problems/${name}`);
  }
}

/** The service could not be reached, so nothing is known of what became of the request. */
export class NoConnection extends Error {
  constructor(cause: unknown) {
    super("The service cannot be reached. Check the connection, then try again.", { cause });
    this.name = "NoConnection";
  }
}

export const isProblem = (error: unknown, name: ProblemName): error is ApiProblem =>
  error instanceof ApiProblem && error.is(name);

/** Whether the same request may well succeed in a moment. */
export const isPassing = (error: unknown): boolean =>
  error instanceof NoConnection || (error instanceof ApiProblem && [502, 503, 504].includes(error.status));

/** Any error as one or two plain sentences. */
export function errorWords(error: unknown): string {
  if (isProblem(error, "version-stale"))
    return "Somebody changed this meanwhile: look at theirs, then save again.";
  if (error instanceof ApiProblem) {
    const { title, detail } = error.document;
    return detail && detail !== title ? `${title} ${detail}` : title;
  }
  if (error instanceof NoConnection) return error.message;
  return "Something went wrong in this page. Load it again; if it stays, tell the owner of the company.";
}
