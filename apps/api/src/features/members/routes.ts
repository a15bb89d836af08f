import { identity as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { invite, revokeInvitation } from "./invitations.ts";
import { listInvitations, listMembers } from "./queries.ts";
import { updateMember } from "./service.ts";

export const memberRoutes: Implementation[] = [
  implement(contract.listMembers, async ({ db }) => ({ items: await listMembers(db) })),
  implement(contract.updateMember, updateMember),
  implement(contract.listInvitations, async ({ db, services }) => ({
    items: await listInvitations(db, services.now()),
  })),
  implement(contract.invite, invite),
  implement(contract.revokeInvitation, revokeInvitation),
];
