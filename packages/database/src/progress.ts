/**
 * Receives one plain line (no newline) for each step that takes long enough for a person to wonder
 * whether the program still works.
 */
export type Progress = (line: string) => void;

/** Keeps quiet: for callers that have nobody to tell. */
export const noProgress: Progress = () => {};

/**
 * Writes each line, prefixed and ended with a newline, to standard error, so that standard output stays
 * free for results.
 */
export function printProgress(prefix = ""): Progress {
  return (line) => {
    process.stderr.write(`${prefix}${line}\n`);
  };
}
