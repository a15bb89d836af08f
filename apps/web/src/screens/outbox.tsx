import "./outbox.css";
import type { OutboxMessage } from "@ledgerboard/contracts/company";
import { useQueries } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../api/queries.ts";
import { useSession } from "../app/session.ts";
import { Button } from "../ui/button.tsx";
import { Flag } from "../ui/flag.tsx";
import { moment } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { EmptyState, ErrorState, Loading } from "../ui/states.tsx";

const STATES: Record<OutboxMessage["state"], string> = {
  pending: "waiting to be sent",
  sent: "sent",
  kept: "kept here, no mail server is set up",
  failed: "could not be sent",
};

function Letter({ message, timezone }: { message: OutboxMessage; timezone: string }) {
  return (
    <details className="letter">
      <summary>
        <span className="letter-subject">{message.subject}</span>
        <span className="quiet">to {message.to}</span>
        <span className="letter-when">
          {message.state === "failed" ? (
            <Flag alarm>{STATES.failed}</Flag>
          ) : (
            <span className="quiet">{STATES[message.state]}</span>
          )}{" "}
          <span className="quiet">{moment(message.createdAt, timezone)}</span>
        </span>
      </summary>
      {message.lastError && <p className="field-error">{message.lastError}</p>}
      <pre>{message.text}</pre>
    </details>
  );
}

/** Mail written by the service, newest first. Without a mail server it is kept here and can be read. */
export default function Outbox() {
  const { company } = useSession();
  const [cursors, setCursors] = useState<(string | undefined)[]>([undefined]);
  const pages = useQueries({
    queries: cursors.map((after) => q.outbox({ limit: "50", ...(after !== undefined && { after }) })),
  });
  const messages = [
    ...new Map(pages.flatMap((page) => page.data?.items ?? []).map((one) => [one.id, one])).values(),
  ];
  const last = pages.at(-1);
  const next = last?.data?.next;
  return (
    <Page title="Outbox" lead="Mail the service has written, newest first. Open one to read it.">
      {messages.length > 0 && (
        <div className="letters">
          {messages.map((message) => (
            <Letter key={message.id} message={message} timezone={company.timezone} />
          ))}
        </div>
      )}
      {last?.isPending && <Loading />}
      {last?.error && !last.data && <ErrorState error={last.error} onRetry={() => void last.refetch()} />}
      {last?.data && messages.length === 0 && (
        <EmptyState title="No mail yet">
          Invitations, password links and notices to members appear here.
        </EmptyState>
      )}
      {next && (
        <div className="row no-print">
          <Button onPress={() => setCursors([...cursors, next])}>Show more</Button>
        </div>
      )}
    </Page>
  );
}
