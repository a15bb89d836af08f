import type { ComponentType } from "react";
import type { Asking, AskName } from "./asking.ts";
import {
  BookDialog,
  CancelBookingDialog,
  FinishWorkDialog,
  MoveBookingDialog,
  StartWorkDialog,
} from "./booking-dialogs.tsx";
import { WaiveChangeDialog } from "./change.tsx";
import { CloseDialog, ReopenDialog } from "./closing.tsx";
import { ContactDialog } from "./contact.tsx";
import { FirstPassDialog, SiteReviewDialog } from "./estimate.tsx";
import { LiftHoldDialog, PlaceHoldDialog } from "./holds.tsx";
import { EditJobDialog, PinDialog, UnpinDialog } from "./job-dialogs.tsx";
import { DepositDialog, ReceiptDialog, RefundDialog, ReverseDialog } from "./money-dialogs.tsx";
import { ObservationDialog } from "./observations.tsx";
import { PromiseDialog } from "./promise.tsx";
import { PropertyDialog } from "./property.tsx";
import { AcceptanceDialog, DeclineDialog, IssueQuoteDialog } from "./quote-dialogs.tsx";
import { QuoteDialog } from "./quote-document.tsx";
import { MoveVisitDialog, ScheduleVisitDialog } from "./visit-dialogs.tsx";
import { AddZoneDialog, EditZoneDialog, RemoveZoneDialog } from "./zone-dialogs.tsx";

/** What stands in front of the page when something is asked. */
export const DIALOGS: Record<AskName, ComponentType<Asking>> = {
  edit_job: EditJobDialog,
  pin: PinDialog,
  unpin: UnpinDialog,
  place_hold: PlaceHoldDialog,
  lift_hold: LiftHoldDialog,
  edit_contact: ContactDialog,
  edit_property: PropertyDialog,
  schedule_visit: ScheduleVisitDialog,
  move_visit: MoveVisitDialog,
  add_zone: AddZoneDialog,
  edit_zone: EditZoneDialog,
  remove_zone: RemoveZoneDialog,
  add_observation: ObservationDialog,
  start_first_pass: FirstPassDialog,
  start_site_review: SiteReviewDialog,
  waive_variance: WaiveChangeDialog,
  issue_quote: IssueQuoteDialog,
  view_quote: QuoteDialog,
  record_acceptance: AcceptanceDialog,
  decline_quote: DeclineDialog,
  request_deposit: DepositDialog,
  record_payment: ReceiptDialog,
  refund: RefundDialog,
  reverse_payment: ReverseDialog,
  book_crew: BookDialog,
  move_booking: MoveBookingDialog,
  cancel_booking: CancelBookingDialog,
  start_work: StartWorkDialog,
  finish_work: FinishWorkDialog,
  promise: PromiseDialog,
  close_job: CloseDialog,
  reopen_job: ReopenDialog,
};
