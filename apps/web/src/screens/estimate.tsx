import "./estimate/estimate.css";
import "./estimate/line.css";
import "./estimate/remarks.css";
import "./estimate/bill.css";
import "./estimate/spread.css";
import { useQuery } from "@tanstack/react-query";
import { q } from "../api/queries.ts";
import { useParam } from "../app/params.ts";
import { useMay } from "../app/session.ts";
import { Page } from "../ui/page.tsx";
import { ErrorState, Loading } from "../ui/states.tsx";
import { Editor } from "./estimate/editor.tsx";

export default function EstimateScreen() {
  const may = useMay();
  const job = useQuery(q.job(useParam("jobId")));
  const revision = useQuery(q.revision(useParam("revisionId")));
  const baseId = revision.data?.basedOnId;
  const before = useQuery({ ...q.revision(baseId ?? ""), enabled: Boolean(baseId) });
  const wantsBook = may("price_book.read");
  const bookId = revision.data?.priceBookId;
  const book = useQuery({ ...q.priceBook(bookId), enabled: wantsBook && Boolean(bookId) });

  const needed = [job, revision, ...(baseId ? [before] : []), ...(wantsBook ? [book] : [])];
  const failed = needed.find((query) => query.data === undefined && query.error);
  if (failed || !job.data || !revision.data || needed.some((query) => query.data === undefined))
    return (
      <Page title="Estimate">
        {failed ? (
          <ErrorState error={failed.error} onRetry={() => void failed.refetch()} />
        ) : (
          <Loading rows={12} label="Loading the estimate" />
        )}
      </Page>
    );
  return (
    <Editor
      key={revision.data.id}
      job={job.data}
      revision={revision.data}
      before={before.data}
      book={book.data}
    />
  );
}
