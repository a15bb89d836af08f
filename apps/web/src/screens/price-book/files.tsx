import type { PriceBook } from "@ledgerboard/contracts/price-book";
import { useMutation } from "@tanstack/react-query";
import { call } from "../../api/client.ts";
import { api } from "../../api/generated/endpoints.ts";
import { errorWords } from "../../api/problem.ts";
import { Button } from "../../ui/button.tsx";
import { Section } from "../../ui/section.tsx";
import { toast } from "../../ui/toast.tsx";
import { Import, type ImportDraft } from "./import.tsx";
import { LISTS, type PriceList } from "./import-words.ts";

/** The book as files for a spreadsheet, and back. */
export function Files({
  book,
  editable,
  draft,
  onDraft,
}: {
  book: PriceBook;
  editable: boolean;
  draft: ImportDraft;
  onDraft: (draft: ImportDraft) => void;
}) {
  const { mutate, isPending, variables } = useMutation({
    mutationFn: (list: PriceList) => call(api.exportPrices, { params: { bookId: book.id }, query: { list } }),
    onSuccess: ({ fileName, csv }) => {
      download(fileName, csv);
      toast(`${fileName} is in your downloads.`);
    },
    onError: (error) => toast(errorWords(error), { alarm: true }),
  });
  return (
    <>
      <Section title="Take prices out" note="CSV files for any spreadsheet">
        <p>
          Change figures in the file, then bring it back below. Keep its heading and its codes as they are.
        </p>
        <div className="row">
          {LISTS.map(({ value, label }) => (
            <Button key={value} busy={isPending && variables === value} onPress={() => mutate(value)}>
              {label}
            </Button>
          ))}
        </div>
      </Section>
      {editable && <Import bookId={book.id} draft={draft} onDraft={onDraft} />}
    </>
  );
}

/** Hands text to the browser as a file. */
function download(fileName: string, csv: string): void {
  const address = URL.createObjectURL(new Blob([csv], { type: "text/csv;charset=utf-8" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
