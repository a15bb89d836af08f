import { useId, useState } from "react";
import { useAct } from "../../api/act.ts";
import { api } from "../../api/generated/endpoints.ts";
import { errorWords } from "../../api/problem.ts";
import { Button } from "../../ui/button.tsx";
import { Segment } from "../../ui/choices.tsx";
import { Section } from "../../ui/section.tsx";
import { TextArea } from "../../ui/text-field.tsx";
import { ImportReport, type ImportResult } from "./import-report.tsx";
import { LISTS, type PriceList, textFault } from "./import-words.ts";

/** What has been chosen or pasted, kept while other parts of the book are looked at. */
export interface ImportDraft {
  list: PriceList;
  csv: string;
  /** Name of the file the text came from; "" when it was pasted or changed. */
  fileName: string;
  result: ImportResult | null;
}

export const NO_IMPORT: ImportDraft = { list: "materials", csv: "", fileName: "", result: null };

/** Brings a file back: first only looked through, then applied once nothing in it is wrong. */
export function Import({
  bookId,
  draft,
  onDraft,
}: {
  bookId: string;
  draft: ImportDraft;
  onDraft: (draft: ImportDraft) => void;
}) {
  const read = useAct(api.importPrices);
  const [error, setError] = useState<string>();
  const [problem, setProblem] = useState<unknown>(null);
  const file = useId();
  const { list, csv, fileName, result } = draft;
  /** Anything else typed or chosen makes what was found out about the file untrue. */
  const change = (next: Partial<ImportDraft>) => {
    setError(undefined);
    setProblem(null);
    onDraft({ ...draft, result: null, ...next });
  };
  const send = async (dryRun: boolean) => {
    const fault = textFault(csv);
    setError(fault);
    setProblem(null);
    if (fault) return;
    try {
      const answer = await read.send({ params: { bookId }, body: { list, csv, dryRun } });
      onDraft({ ...draft, result: answer });
    } catch (thrown) {
      setProblem(thrown);
    }
  };
  const ready = result && !result.applied && result.faults.length === 0 && result.added + result.changed > 0;
  return (
    <Section title="Bring prices in" note="checked first; nothing changes until you apply it">
      <div className="pb-import">
        <div className="field">
          <span className="label">What is in the file</span>
          <Segment
            label="What is in the file"
            options={LISTS}
            value={list}
            onChange={(next) => change({ list: next })}
          />
        </div>
        <div className="field">
          <label className="label" htmlFor={file}>
            File
          </label>
          <input
            id={file}
            className="input"
            type="file"
            accept=".csv,text/csv,text/plain"
            onChange={async (event) => {
              const chosen = event.target.files?.[0];
              // So that the same file can be chosen again after it was mended.
              event.target.value = "";
              if (!chosen) return;
              try {
                change({ csv: await chosen.text(), fileName: chosen.name });
              } catch {
                setError("The file could not be read. Choose it again.");
              }
            }}
          />
          {fileName && <span className="hint">Below is {fileName}.</span>}
        </div>
        <TextArea
          label="Or paste its text"
          hint="The heading first, one row to a line, as the files above are written."
          rows={6}
          name="csv"
          value={csv}
          error={error}
          onChange={(next) => change({ csv: next, fileName: "" })}
        />
        {problem !== null && (
          <div className="notice alarm" role="alert">
            <p>{errorWords(problem)}</p>
            <p>Nothing was changed, and the text is still here.</p>
          </div>
        )}
        <div className="row">
          <Button kind={ready ? undefined : "main"} busy={read.busy} onPress={() => void send(true)}>
            Check the file
          </Button>
          {ready && (
            <Button kind="main" busy={read.busy} onPress={() => void send(false)}>
              Apply
            </Button>
          )}
          {csv !== "" && (
            <Button kind="text" isDisabled={read.busy} onPress={() => change({ csv: "", fileName: "" })}>
              Clear
            </Button>
          )}
        </div>
      </div>
      {result && <ImportReport result={result} list={list} />}
    </Section>
  );
}
