import { z } from "zod";
import { done, email, id, instant, line, password, stateCode, version } from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { ROLES } from "./vocabulary.ts";

const roles = z
  .array(z.enum(ROLES))
  .min(1, "Give at least one role.")
  .refine((v) => new Set(v).size === v.length, "Each role once.");
const token = z
  .string()
  .regex(/^[A-Za-z0-9_-]{43}$/, "Not a link of this service; open it again from the mail.");
const slug = z.string().regex(/^[a-z0-9-]{3,60}$/, "Small letters, digits and hyphens, 3 to 60 of them.");

export const session = z.object({
  member: z.object({ id, name: z.string(), email: z.string(), roles: z.array(z.enum(ROLES)) }),
  company: z.object({
    id,
    name: z.string(),
    slug: z.string(),
    timezone: z.string(),
    state: z.string(),
    currency: z.literal("USD"),
  }),
  permissions: z.array(z.string()),
  /** Send as X-CSRF-Token with every write made with the session cookie. */
  csrfToken: z.string(),
  /** Today in the company's time zone. */
  today: z.string(),
});
export type Session = z.infer<typeof session>;

export const member = z.object({
  id,
  name: z.string(),
  email: z.string(),
  roles: z.array(z.enum(ROLES)),
  active: z.boolean(),
  lastSeenAt: z.string().nullable(),
  version,
});
export type Member = z.infer<typeof member>;

export const invitation = z.object({
  id,
  name: z.string(),
  email: z.string(),
  roles: z.array(z.enum(ROLES)),
  invitedBy: z.string(),
  expiresAt: instant,
  state: z.enum(["open", "accepted", "revoked", "expired"]),
});
export type Invitation = z.infer<typeof invitation>;

export const signUp = endpoint({
  id: "signUp",
  method: "POST",
  path: "/sign-up",
  tag: "identity",
  summary: "Open a company; the person becomes its owner and is signed in.",
  access: "public",
  perMinute: 5,
  body: z.strictObject({
    companyName: line(80),
    state: stateCode,
    timezone: line(60).default("America/New_York"),
    name: line(80),
    email,
    password,
  }),
  response: session,
  status: 201,
});
export const signIn = endpoint({
  id: "signIn",
  method: "POST",
  path: "/session",
  tag: "identity",
  summary: "Sign in with mail address and password.",
  access: "public",
  perMinute: 10,
  body: z.strictObject({
    email,
    password: z.string().min(1, "Enter the password.").max(200, "At most 200 characters."),
    /** Only needed when the address belongs to several companies. */
    company: slug.optional(),
  }),
  response: session,
  status: 201,
});
export const getSession = endpoint({
  id: "getSession",
  method: "GET",
  path: "/session",
  tag: "identity",
  summary: "Who is signed in.",
  access: "signed_in",
  response: session,
  status: 200,
});
export const signOut = endpoint({
  id: "signOut",
  method: "DELETE",
  path: "/session",
  tag: "identity",
  summary: "Sign out of this browser.",
  access: "signed_in",
  response: done,
  status: 200,
});
export const changePassword = endpoint({
  id: "changePassword",
  method: "POST",
  path: "/session/password",
  tag: "identity",
  summary: "Change one's own password; other browsers are signed out.",
  access: "signed_in",
  perMinute: 10,
  body: z.strictObject({
    current: z.string().min(1, "Enter the current password.").max(200),
    next: password,
  }),
  response: done,
  status: 200,
});
export const requestPasswordReset = endpoint({
  id: "requestPasswordReset",
  method: "POST",
  path: "/password-resets",
  tag: "identity",
  summary: "Mail a link to set a new password. Answers alike whether or not the address is known.",
  access: "public",
  perMinute: 5,
  body: z.strictObject({ email }),
  response: done,
  status: 202,
});
export const confirmPasswordReset = endpoint({
  id: "confirmPasswordReset",
  method: "POST",
  path: "/password-resets/confirm",
  tag: "identity",
  summary: "Set a new password with the mailed link; every browser is signed out.",
  access: "public",
  perMinute: 10,
  body: z.strictObject({ token, password }),
  response: done,
  status: 200,
});
export const listMembers = endpoint({
  id: "listMembers",
  method: "GET",
  path: "/members",
  tag: "members",
  summary: "The people of the company.",
  access: "members.read",
  response: z.object({ items: z.array(member) }),
  status: 200,
});
export const updateMember = endpoint({
  id: "updateMember",
  method: "PATCH",
  path: "/members/:memberId",
  tag: "members",
  summary: "Change a member's name, roles or access. The last active owner stays one.",
  access: "members.edit",
  ifMatch: true,
  params: z.strictObject({ memberId: id }),
  body: z.strictObject({
    name: line(80).optional(),
    roles: roles.optional(),
    active: z.boolean().optional(),
  }),
  response: member,
  status: 200,
});
export const listInvitations = endpoint({
  id: "listInvitations",
  method: "GET",
  path: "/invitations",
  tag: "members",
  summary: "Invitations sent.",
  access: "members.edit",
  response: z.object({ items: z.array(invitation) }),
  status: 200,
});
export const invite = endpoint({
  id: "invite",
  method: "POST",
  path: "/invitations",
  tag: "members",
  summary: "Invite somebody by mail.",
  access: "members.edit",
  idempotent: true,
  body: z.strictObject({ name: line(80), email, roles }),
  response: invitation,
  status: 201,
});
export const revokeInvitation = endpoint({
  id: "revokeInvitation",
  method: "DELETE",
  path: "/invitations/:invitationId",
  tag: "members",
  summary: "Take an open invitation back.",
  access: "members.edit",
  params: z.strictObject({ invitationId: id }),
  response: done,
  status: 200,
});
export const readInvitation = endpoint({
  id: "readInvitation",
  method: "POST",
  path: "/invitations/read",
  tag: "identity",
  summary: "What an invitation link offers.",
  access: "public",
  perMinute: 30,
  body: z.strictObject({ token }),
  response: z.object({
    companyName: z.string(),
    name: z.string(),
    email: z.string(),
    roles: z.array(z.enum(ROLES)),
  }),
  status: 200,
});
export const acceptInvitation = endpoint({
  id: "acceptInvitation",
  method: "POST",
  path: "/invitations/accept",
  tag: "identity",
  summary: "Join the company with the invitation link.",
  access: "public",
  perMinute: 10,
  body: z.strictObject({ token, name: line(80), password }),
  response: session,
  status: 201,
});
