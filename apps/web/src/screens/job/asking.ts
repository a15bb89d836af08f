import type { Job } from "@ledgerboard/contracts/jobs";
import type { Permission } from "@ledgerboard/contracts/permissions";
import { createContext, use } from "react";

/** The acts that `job.acts` answers for: what the button says, and who may. */
export const ACTS = {
  schedule_visit: ["Schedule a visit", "visits.edit"],
  start_first_pass: ["Start the first pass", "estimates.first_pass"],
  start_site_review: ["Start the site review", "estimates.site_review"],
  edit_revision: ["Open the draft", "estimates.read"],
  issue_revision: ["Open the draft", "estimates.read"],
  issue_quote: ["Issue a quote", "quotes.issue"],
  record_acceptance: ["Record the signature", "quotes.record_acceptance"],
  decline_quote: ["Record a no", "quotes.record_acceptance"],
  request_deposit: ["Ask for the deposit", "money.record"],
  record_payment: ["Enter money received", "money.record"],
  waive_variance: ["Waive the change", "variances.waive"],
  place_hold: ["Place a hold", "holds.edit"],
  book_crew: ["Book a crew", "bookings.edit"],
  move_booking: ["Move the booking", "bookings.edit"],
  cancel_booking: ["Cancel the booking", "bookings.edit"],
  start_work: ["Work has started", "bookings.run"],
  finish_work: ["Work is finished", "bookings.run"],
  close_job: ["Close the job", "jobs.close"],
  reopen_job: ["Take it up again", "jobs.close"],
} as const satisfies Record<string, readonly [string, Permission]>;
export type ActName = keyof typeof ACTS;

/** Everything of the page that opens a dialog. */
export type AskName =
  | Exclude<ActName, "edit_revision" | "issue_revision">
  | "edit_job"
  | "pin"
  | "unpin"
  | "edit_contact"
  | "edit_property"
  | "move_visit"
  | "add_zone"
  | "edit_zone"
  | "remove_zone"
  | "add_observation"
  | "lift_hold"
  | "view_quote"
  | "refund"
  | "reverse_payment"
  | "promise";

export interface Asked {
  name: AskName;
  /** The visit, zone, quote … it is about. */
  id: string | undefined;
}

export interface Asking {
  job: Job;
  id: string | undefined;
  onClose: () => void;
}

export const JobContext = createContext<{ job: Job; ask: (name: AskName, id?: string) => void } | null>(null);

/** The job of the page, and how to ask something about it. */
export function useJob() {
  const context = use(JobContext);
  if (!context) throw new Error("This is part of a job's page.");
  return context;
}

/** Whether an act may be done now, and why not. */
export const verdict = (job: Job, act: ActName): { allowed: boolean; why: string | null } =>
  job.acts[act] ?? { allowed: false, why: null };

export const draftOf = (job: Job) => job.revisions.findLast((revision) => revision.state === "draft");
