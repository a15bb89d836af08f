export { addDays, compareDates, daysBetween, sayDate, weekday } from "@ledgerboard/contracts/dates";
export {
  ACTS,
  type Act,
  type JobFacts,
  type JobState,
  type NextAct,
  type StandingHold,
  type Verdict,
} from "./job-facts.ts";
export { deriveJob } from "./job-state.ts";
export {
  addWorkdays,
  bookingConflicts,
  type CrewBooking,
  crewDays,
  isWorkday,
  type WorkCalendar,
  workdaysBetween,
} from "./workdays.ts";
