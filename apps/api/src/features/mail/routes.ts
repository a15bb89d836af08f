import { company as contract } from "@ledgerboard/contracts";
import { fromCursor, paginate, toCursor } from "../../cursor.ts";
import { type Implementation, implement } from "../../http/implement.ts";
import { listOutbox } from "./queries.ts";
import { withoutKeys } from "./service.ts";

export const mailRoutes: Implementation[] = [
  implement(contract.listOutbox, async ({ db, query, services }) => {
    const { APP_SECRET, SMTP_URL } = services.config;
    const after = fromCursor<[string]>(APP_SECRET, "outbox", query.after)?.[0] ?? null;
    const rows = await listOutbox(db, after, query.limit + 1);
    // Where a mail server delivers, a link is for its reader alone; where none does, the owner hands it on.
    const shown = SMTP_URL
      ? rows.map((m) => (m.state === "kept" ? m : { ...m, text: withoutKeys(m.text) }))
      : rows;
    return paginate(shown, query.limit, (last) => toCursor(APP_SECRET, "outbox", [last.id]));
  }),
];
