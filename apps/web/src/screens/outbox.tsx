import "./outbox.css";
import type { OutboxMessage } from "@ledgerboard/contracts/company";
import { q } from "../api/queries.ts";
import { useSession } from "../app/session.ts";
import { Flag } from "../ui/flag.tsx";
import { moment } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { Paged } from "../ui/paged.tsx";
import { EmptyState } from "../ui/states.tsx";

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
  return (
    <Page title="Outbox" lead="Mail the service has written, newest first. Open one to read it.">
      <Paged
        page={(after) => q.outbox({ limit: "50", ...(after !== undefined && { after }) })}
        rowKey={(message) => message.id}
        waiting={6}
      >
        {(messages, complete) =>
          messages.length === 0 ? (
            complete && (
              <EmptyState title="No mail yet">
                Invitations, password links and notices to members appear here.
              </EmptyState>
            )
          ) : (
            <div className="letters">
              {messages.map((message) => (
                <Letter key={message.id} message={message} timezone={company.timezone} />
              ))}
            </div>
          )
        }
      </Paged>
    </Page>
  );
}
