import "./customers.css";
import { useQuery } from "@tanstack/react-query";
import { q } from "../api/queries.ts";
import { useSearchText } from "../app/search.ts";
import { useMay } from "../app/session.ts";
import { Button, ButtonLink } from "../ui/button.tsx";
import { Page } from "../ui/page.tsx";
import { SearchBox } from "../ui/search-box.tsx";
import { EmptyState, Loaded } from "../ui/states.tsx";
import { CustomerList } from "./customers/customer-list.tsx";
import { Duplicates } from "./customers/duplicates.tsx";

export default function Customers() {
  const [search, setSearch] = useSearchText();
  const may = useMay();
  const text = search.q?.slice(0, 80);
  const first = useQuery(q.customers({ limit: "50", ...(text && { search: text }) }));
  return (
    <Page
      title="Customers"
      lead="By name; people who share a phone number or a mail address are offered for merging."
      actions={
        may("leads.create") && (
          <ButtonLink to="/new" kind="main">
            Take an inquiry
          </ButtonLink>
        )
      }
    >
      {may("customers.merge") && !text && <Duplicates />}
      <search className="customer-tools no-print">
        <SearchBox
          placeholder="name, phone, mail"
          value={text ?? ""}
          onChange={(next) => setSearch({ q: next })}
        />
      </search>
      <Loaded query={first} rows={10}>
        {(page) =>
          page.items.length > 0 ? (
            <CustomerList key={text ?? ""} search={text} />
          ) : text ? (
            <EmptyState
              title="Nobody fits that"
              actions={<Button onPress={() => setSearch({ q: undefined })}>Show everybody</Button>}
            >
              Look for a part of the name or the mail address, or at least four digits of the phone number.
            </EmptyState>
          ) : (
            <EmptyState
              title="No customers yet"
              actions={may("leads.create") && <ButtonLink to="/new">Take an inquiry</ButtonLink>}
            >
              The first one comes with the first inquiry.
            </EmptyState>
          )
        }
      </Loaded>
    </Page>
  );
}
