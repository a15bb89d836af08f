import "./deposits.css";
import { useQuery } from "@tanstack/react-query";
import { q } from "../api/queries.ts";
import { useSearchText } from "../app/search.ts";
import { Button } from "../ui/button.tsx";
import { Segment } from "../ui/choices.tsx";
import { Page } from "../ui/page.tsx";
import { EmptyState, Loaded } from "../ui/states.tsx";
import { DepositList, STATE_WORDS } from "./deposits/deposit-list.tsx";

const VIEWS = ["due", "not_asked", "paid", "all"] as const;
type View = (typeof VIEWS)[number];
const VIEW_WORDS: Record<View, string> = {
  all: "all",
  due: "to be paid",
  not_asked: "not asked for",
  paid: "paid",
};

/** Signed jobs and their deposits: who owes what, and since when. */
export default function Deposits() {
  const [search, setSearch] = useSearchText();
  const view = VIEWS.find((one) => one === search.state) ?? "due";
  const first = useQuery(q.deposits({ state: view, limit: "50" }));
  return (
    <Page
      title="Deposits"
      lead="Every signed job. A deposit above what the state allows is refused where it is asked for; the ledger is never edited, wrong entries are reversed."
    >
      <div className="deposit-tools no-print">
        <Segment
          label="Which deposits"
          options={VIEWS.map((value) => ({ value, label: VIEW_WORDS[value] }))}
          value={view}
          onChange={(state) => setSearch({ state: state === "due" ? undefined : state })}
        />
      </div>
      <Loaded query={first} rows={8}>
        {(page) =>
          page.items.length > 0 ? (
            <DepositList key={view} view={view} />
          ) : view === "all" ? (
            <EmptyState title="No signed jobs yet">A job appears here once its quote is signed.</EmptyState>
          ) : (
            <EmptyState
              title={`Nothing is ${view === "due" ? STATE_WORDS.due : VIEW_WORDS[view]}`}
              actions={<Button onPress={() => setSearch({ state: "all" })}>Show all</Button>}
            />
          )
        }
      </Loaded>
    </Page>
  );
}
