import type { importPrices } from "@ledgerboard/contracts/price-book";
import type { Output } from "../../api/wire.ts";
import { Flag } from "../../ui/flag.tsx";
import { plural, sentence, words } from "../../ui/format.ts";
import { Table } from "../../ui/table.tsx";
import { importWords, type PriceList } from "./import-words.ts";

export type ImportResult = Output<typeof importPrices>;

/** What a file would do to the book, or has done: counts, what is wrong with it, and every change. */
export function ImportReport({ result, list }: { result: ImportResult; list: PriceList }) {
  const { applied, faults, added, changed, changes } = result;
  return (
    <div className="pb-report">
      <div className={faults.length > 0 ? "notice alarm" : "notice"} role="status">
        <p>{headline(result)}</p>
        {faults.length === 0 && <p>{importWords(result, list)}</p>}
      </div>
      {faults.length > 0 && (
        <Table
          caption="What is wrong in the file"
          columns={[
            { title: "Line", cell: ({ line }) => `Line ${line}` },
            {
              title: "Column",
              cell: ({ column }) => column || <span className="quiet">the whole line</span>,
            },
            { title: "What is wrong", cell: (fault) => fault.words },
          ]}
          rows={faults.map((fault, i) => ({ ...fault, key: `${i}` }))}
          rowKey={({ key }) => key}
        />
      )}
      {faults.length === 0 && added + changed > 0 && (
        <>
          <h3>{applied ? "What was changed" : "What would change"}</h3>
          <ul className="pb-changes">
            {changes.map(({ code, what, fields }) => (
              <li key={code}>
                <p>
                  <b>{code}</b> {what === "added" && <Flag>new</Flag>}
                </p>
                <dl>
                  {fields.map(({ field, before, after }) => (
                    <div key={field}>
                      <dt>{words(field)}</dt>
                      <dd>
                        {what === "changed" && (
                          <>
                            <s className="quiet">{before || "nothing"}</s> <span aria-hidden="true">→</span>
                            <span className="sr">becomes</span>{" "}
                          </>
                        )}
                        <b>{after || "nothing"}</b>
                      </dd>
                    </div>
                  ))}
                </dl>
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

function headline({ applied, faults, added, changed }: ImportResult): string {
  if (faults.length > 0)
    return `${sentence(plural(faults.length, "thing is", "things are"))} wrong in the file. Nothing was changed; mend it and check again.`;
  if (applied) return "Applied: the book now says what the file says.";
  if (added + changed === 0) return "The file says what the book says already: there is nothing to apply.";
  return "Nothing is wrong with the file. Nothing has been changed yet: look below, then apply.";
}
