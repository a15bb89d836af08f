import type { Customer } from "@ledgerboard/contracts/customers";
import { useQuery } from "@tanstack/react-query";
import { Link } from "@tanstack/react-router";
import { q } from "../../api/queries.ts";
import { Button } from "../../ui/button.tsx";
import { plural, sentence } from "../../ui/format.ts";
import { Section } from "../../ui/section.tsx";
import { useMerge } from "./merging.ts";

/** Pairs that may be one person twice. Which of the two is kept is for people to say. */
export function Duplicates() {
  const pairs = useQuery(q.duplicates()).data?.items ?? [];
  const { fold, busy } = useMerge();
  if (pairs.length === 0) return null;
  return (
    <Section
      title={`${sentence(plural(pairs.length, "pair"))} may be one customer twice`}
      className="customers-doubles"
    >
      <ul className="plain">
        {pairs.map(({ keep, other, shared }) => (
          <li key={`${keep.id}${other.id}`} className="customers-double">
            <p className="quiet">
              same {shared.map((what) => (what === "email" ? "mail address" : "phone number")).join(" and ")}
            </p>
            <Side one={keep} busy={busy} onKeep={() => fold(keep, other)} note="the older" />
            <Side one={other} busy={busy} onKeep={() => fold(other, keep)} note="the newer" />
          </li>
        ))}
      </ul>
      <p className="quiet">
        The one kept takes over the properties and jobs of the other. It can be undone: each gets its own
        back.
      </p>
    </Section>
  );
}

function Side({
  one,
  note,
  busy,
  onKeep,
}: {
  one: Customer;
  note: string;
  busy: boolean;
  onKeep: () => void;
}) {
  return (
    <div className="customers-side">
      <p>
        <Link to="/customers/$customerId" params={{ customerId: one.id }}>
          {one.name}
        </Link>{" "}
        <small className="quiet">{note}</small>
        <small className="block">{[one.phone, one.email].filter(Boolean).join(" · ")}</small>
      </p>
      <Button
        small
        busy={busy}
        onPress={onKeep}
        aria-label={`Keep ${one.name}, the ${note.slice(4)} of the two`}
      >
        Keep this one
      </Button>
    </div>
  );
}
