import { PERMISSIONS, type Permission } from "@ledgerboard/contracts/permissions";
import { words } from "./format.ts";

/** The roles that may do something, for people who may not: "owner, sales or senior estimator". */
export function whoMay(permission: Permission): string {
  const roles = PERMISSIONS[permission].map(words);
  const last = roles.pop() ?? "";
  return roles.length > 0 ? `${roles.join(", ")} or ${last}` : last;
}
