import type { Member } from "@ledgerboard/contracts/identity";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import { q } from "../api/queries.ts";
import { useMay, useSession } from "../app/session.ts";
import { Button } from "../ui/button.tsx";
import { Flag } from "../ui/flag.tsx";
import { moment, plural, words } from "../ui/format.ts";
import { Page } from "../ui/page.tsx";
import { Loaded } from "../ui/states.tsx";
import { type Column, Table } from "../ui/table.tsx";
import { whoMay } from "../ui/who-may.ts";
import { Invitations, InviteDialog } from "./members/invitations.tsx";
import { MemberDialog } from "./members/member-dialog.tsx";

/** The people of the company and what each may do. */
export default function Members() {
  const may = useMay();
  const { company, member: me } = useSession();
  const members = useQuery(q.members());
  const [inviting, setInviting] = useState(false);
  const [editing, setEditing] = useState<Member | null>(null);
  const columns: Column<Member>[] = [
    {
      title: "Name",
      cell: (one) => (
        <>
          {one.name} {one.id === me.id && <span className="quiet">you</span>}{" "}
          {!one.active && <Flag>no access</Flag>}
        </>
      ),
    },
    { title: "Roles", cell: (one) => one.roles.map(words).join(", ") },
    { title: "Mail", cell: (one) => one.email },
    {
      title: "Last seen",
      cell: (one) =>
        one.lastSeenAt ? moment(one.lastSeenAt, company.timezone) : <span className="quiet">never</span>,
    },
  ];
  const change: Column<Member> = {
    title: "Change",
    silent: true,
    num: true,
    cell: (one) => (
      <Button small kind="text" aria-label={`Change ${one.name}`} onPress={() => setEditing(one)}>
        Change
      </Button>
    ),
  };
  return (
    <Page
      title="Members"
      lead={
        members.data &&
        `${plural(members.data.items.filter((one) => one.active).length, "person has", "people have")} access.${may("members.edit") ? "" : ` The ${whoMay("members.edit")} may change this.`}`
      }
      actions={
        may("members.edit") && (
          <Button kind="main" onPress={() => setInviting(true)}>
            Invite somebody
          </Button>
        )
      }
    >
      <Loaded query={members}>
        {({ items }) => (
          <Table
            caption="Members"
            columns={may("members.edit") ? [...columns, change] : columns}
            rows={items}
            rowKey={(one) => one.id}
          />
        )}
      </Loaded>
      {may("members.edit") && <Invitations />}
      {inviting && <InviteDialog onClose={() => setInviting(false)} />}
      {editing && <MemberDialog member={editing} onClose={() => setEditing(null)} />}
    </Page>
  );
}
