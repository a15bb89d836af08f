/** What is wrong with an input, in words a person can act on; `field` is a path such as "pieces[2].lengthIn". */
export interface InputFinding {
  field: string;
  words: string;
}

/** Thrown where an input cannot be worked with at all; names every fault found, not only the first. */
export class EstimateInputError extends RangeError {
  override name = "EstimateInputError";
  readonly findings: readonly InputFinding[];

  constructor(findings: readonly InputFinding[]) {
    super(findings.map(({ field, words }) => `${field}: ${words}`).join(" "));
    this.findings = findings;
  }
}
