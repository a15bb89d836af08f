import { identity as contract } from "@ledgerboard/contracts";
import { type Implementation, implement, implementPublic } from "../../http/implement.ts";
import { acceptInvitation, readInvitation } from "./joining.ts";
import { confirmPasswordReset, requestPasswordReset } from "./resets.ts";
import { changePassword, signOut } from "./service.ts";
import { toSession } from "./sessions.ts";
import { signIn } from "./sign-in.ts";
import { signUp } from "./sign-up.ts";

export const identityRoutes: Implementation[] = [
  implementPublic(contract.signUp, signUp),
  implementPublic(contract.signIn, signIn),
  implement(contract.getSession, async ({ who, today }) => toSession(who, today)),
  implement(contract.signOut, signOut),
  implement(contract.changePassword, changePassword),
  implementPublic(contract.requestPasswordReset, requestPasswordReset),
  implementPublic(contract.confirmPasswordReset, confirmPasswordReset),
  implementPublic(contract.readInvitation, readInvitation),
  implementPublic(contract.acceptInvitation, acceptInvitation),
];
